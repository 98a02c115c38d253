import { readFileSync } from "node:fs";

/**
 * A file of this package, by its path below `src/`. In the source, the built library and the bundled command, the calling
 * module is one folder below, so one relative path works for all three.
 */
export const packageFile = (path: string): Buffer => readFileSync(new URL(`../${path}`, import.meta.url));
