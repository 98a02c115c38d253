/**
 * What the package needs in `dist` beside what tsc writes: the compiled kernels and what runs in a report's page. A program
 * that checks the declarations of its packages need not know WebAssembly, whose types come with a browser's.
 */
import { cpSync, readFileSync, writeFileSync } from "node:fs";

for (const folder of ["simd/built", "6-report/pages/browser"]) {
  cpSync(`src/${folder}`, `dist/${folder}`, { recursive: true });
}
const declarations = "dist/simd/built/kernels.d.ts";
writeFileSync(declarations, readFileSync(declarations, "utf8").replaceAll("WebAssembly.Module", "object"));
