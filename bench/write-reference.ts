/** Rewrites the reference of the options. */
import { writeFileSync } from "node:fs";
import { optionReference } from "../src/cli/reference.js";

writeFileSync(new URL("../src/cli/README.md", import.meta.url), optionReference());
