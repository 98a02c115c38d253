/**
 * The command as bundles, its start and its threads, so that Node opens a handful of files instead of a hundred. The
 * library beside it stays as tsc made it. Licences of what is bundled go along.
 *
 * A file whose name ends in `-worker` runs on a thread or in a process of its own, and becomes a bundle of its own.
 */
import { chmodSync, cpSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { build } from "esbuild";

const outdir = "dist/command";
const workers = readdirSync("dist", { recursive: true }).filter((path) => path.endsWith("-worker.js"));

const { metafile } = await build({
  entryPoints: {
    main: "dist/cli/main.js",
    ...Object.fromEntries(workers.map((path) => [basename(path, ".js"), join("dist", path)])),
  },
  outdir,
  bundle: true,
  splitting: true,
  format: "esm",
  platform: "node",
  target: "node20.10",
  // Native; starts a file of its own; asks for the name of its own file; only there for those who run a queue.
  external: ["sharp", "tinypool", "write-file-atomic", "bullmq", "ioredis", "@aws-sdk/client-s3"],
  minifySyntax: true,
  minifyWhitespace: true,
  // For packages that still say require.
  banner: {
    js: 'import{createRequire as requireFrom}from"node:module";const require=requireFrom(import.meta.url);',
  },
  metafile: true,
  logLevel: "warning",
});

const packages = new Set(
  Object.keys(metafile.inputs).flatMap(
    (path) => /node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(path)?.[1] ?? [],
  ),
);
const licences = [...packages].sort().map((name) => {
  const folder = join("node_modules", name);
  const file = readdirSync(folder).find((each) => /^licen[cs]e/i.test(each));
  const { license } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
  return `${name}\n\n${file ? readFileSync(join(folder, file), "utf8").trim() : `Licence: ${license}`}\n`;
});
writeFileSync(join(outdir, "licences-of-bundled-packages.txt"), licences.join(`\n${"-".repeat(72)}\n\n`));

rmSync("dist/cli", { recursive: true });
renameSync(outdir, "dist/cli");
chmodSync("dist/cli/main.js", 0o755);

// What the package needs beside: the compiled kernels, and what runs in a report's page. A program that checks the declarations
// of its packages need not know WebAssembly, whose types come with a browser's.
for (const folder of ["simd/built", "6-report/pages/browser"]) {
  cpSync(`src/${folder}`, `dist/${folder}`, { recursive: true });
}
const declarations = "dist/simd/built/kernels.d.ts";
writeFileSync(declarations, readFileSync(declarations, "utf8").replaceAll("WebAssembly.Module", "object"));
