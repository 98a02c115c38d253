import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, statSync } from "node:fs";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../", import.meta.url));

/** Build the command before the tests that run it, unless what is built is newer than every source. */
export function setup(): void {
  const built = `${root}dist/cli/main.js`;
  if (existsSync(built) && statSync(built).mtimeMs > newestSource(`${root}src/`)) return;
  const { status, stderr, stdout } = spawnSync("npm", ["run", "build"], { cwd: root, encoding: "utf8" });
  if (status !== 0) throw new Error(`The build failed:\n${stdout}${stderr}`);
}

function newestSource(folder: string): number {
  const files = readdirSync(folder, { recursive: true, encoding: "utf8" });
  return Math.max(...files.map((file) => statSync(folder + file).mtimeMs));
}
