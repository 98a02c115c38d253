import { readFileSync } from "node:fs";

/**
 * A file of this package, by its path below `src/`. Source, built library and bundled command all keep their modules one
 * folder below it, so that one relative address serves all three.
 */
export const packageFile = (path: string): Buffer => readFileSync(new URL(`../${path}`, import.meta.url));
