import { execFile, spawnSync } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { transformSync } from "esbuild";

export const root = fileURLToPath(new URL("../", import.meta.url));

/** What can be imported. */
export const entries = ["spotpitch", "spotpitch/stages", "spotpitch/physics"] as const;

export interface Example {
  /** `src-stages-3`: the README and its block. */
  readonly name: string;
  readonly code: string;
  /** What the comments behind the arrows say that it prints; empty where a README has none. */
  readonly prints: readonly string[];
}

/** Every ```ts block of the READMEs of the root and of the sources. */
export function readmeExamples(): Example[] {
  const inSources = readdirSync(join(root, "src"), { recursive: true, encoding: "utf8" })
    .filter((file) => file.endsWith("README.md"))
    .map((file) => `src/${file}`);
  return ["README.md", ...inSources.sort()].flatMap((file) => {
    const blocks = [...readFileSync(join(root, file), "utf8").matchAll(/^```ts\n(.*?)\n```$/gms)];
    return blocks.map(([, code], index) => ({
      name: `${file.replace(/\/?README\.md$/, "").replaceAll("/", "-") || "root"}-${index}`,
      code,
      prints: [...code.matchAll(/\/\/ →(.*)$/gm)].map(([, text]) => text.trim()),
    }));
  });
}

/** The package's tarball in `folder`, as it would be published; `dist` has been built before. */
export function pack(folder: string): string {
  const args = ["pack", "--ignore-scripts", "--json", "--pack-destination", folder];
  const [{ filename }] = JSON.parse(run("npm", args, root));
  return join(folder, filename);
}

/** A folder in which the tarball is installed. */
export function install(tarball: string): string {
  const folder = mkdtempSync(join(tmpdir(), "spotpitch-consumer-"));
  writeFileSync(join(folder, "package.json"), '{ "name": "consumer", "private": true, "type": "module" }');
  run("npm", ["install", "--prefer-offline", "--no-audit", "--no-fund", tarball], folder);
  return folder;
}

/** A folder below it that holds a photo `boat.jpg`, and nothing else. */
export function emptyFolder(consumer: string, name: string): string {
  const folder = join(consumer, name);
  mkdirSync(folder);
  copyFileSync(join(root, "sample-images/harbour.jpg"), join(folder, "boat.jpg"));
  return folder;
}

/** What a command prints. Throws, with all that it said, where it fails. */
export function run(command: string, args: readonly string[], cwd: string): string {
  const ran = spawnSync(command, args, { cwd, encoding: "utf8", timeout: 120_000 });
  if (ran.status === 0) return ran.stdout;
  throw new Error(`${command} ${args.join(" ")} failed:\n${ran.error ?? ""}${ran.stdout}${ran.stderr}`);
}

/** Between what two examples print. */
const MARK = "\u0000";

/** One process runs all, which loads the package once: each in its folder, to its end, whatever has become of the others. */
const RUNNER = `
for (const folder of process.argv.slice(2)) {
  process.chdir(folder);
  process.stdout.write(${JSON.stringify(MARK)});
  await import(folder + "/example.mjs").catch((error) => console.log("failed: " + error?.stack));
}`;

/** What each example prints, by its name. */
export function runExamples(consumer: string, examples: readonly Example[]): Promise<Map<string, string>> {
  const folders = examples.map(({ name, code }) => {
    const folder = emptyFolder(consumer, name);
    const { code: script } = transformSync(code, { loader: "ts", format: "esm", target: "node20" });
    writeFileSync(join(folder, "example.mjs"), script);
    return folder;
  });
  writeFileSync(join(consumer, "run.mjs"), RUNNER);
  return new Promise((resolve, reject) => {
    const options = { cwd: consumer, encoding: "utf8", timeout: 110_000 } as const;
    execFile(process.execPath, ["run.mjs", ...folders], options, (error, stdout, stderr) => {
      if (error) return reject(new Error(`The examples failed:\n${stdout}${stderr}`));
      const printed = stdout.split(MARK).slice(1);
      resolve(new Map(examples.map(({ name }, k) => [name, printed[k] ?? ""])));
    });
  });
}
