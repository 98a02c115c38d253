import { readdirSync, statSync } from "node:fs";
import { cpus, loadavg, totalmem } from "node:os";
import { join } from "node:path";
import { packageVersion } from "../src/core/version.js";
import { outputOf } from "./child.js";
import { root, type Tool } from "./job.js";
import { builtCommand } from "./tools/ours.js";

const MISSING = "missing: left out below";

/** Date, machine and versions, for the start of the report. */
export function machineFacts(
  tools: readonly Tool[],
  gnuTime: string | undefined,
): (readonly [name: string, value: string])[] {
  const [load] = loadavg();
  return [
    ["Date", new Date().toISOString().slice(0, 16).replace("T", " ")],
    ["CPU", cpus()[0]?.model.trim() ?? "unknown"],
    ["Cores", `${cpus().length}, load ${load.toFixed(1)} at the start`],
    ["Memory", `${(totalmem() / 2 ** 30).toFixed(1)} GiB`],
    ["Node", process.versions.node],
    ["spotpitch", `${packageVersion()}, ${sourceState()}`],
    ...tools.map(({ name, version }) => [name, version ?? MISSING] as const),
    ["GNU time", gnuTime ? "present" : "missing: no CPU time and no memory below"],
  ];
}

/** The commit, and whether the build matches the source folder. */
function sourceState(): string {
  const commit = outputOf(["git", "-C", root, "rev-parse", "--short", "HEAD"]);
  const changes = outputOf(["git", "-C", root, "status", "--porcelain", "--", "src"]);
  const builtMs = statSync(builtCommand).mtimeMs;
  const sources = readdirSync(join(root, "src"), { recursive: true, encoding: "utf8" });
  const stale = sources.some((name) => {
    const stats = statSync(join(root, "src", name));
    return stats.isFile() && stats.mtimeMs > builtMs;
  });
  return [
    commit ? `commit ${commit}` : "no commit known",
    ...(changes ? ["changed since"] : []),
    ...(stale ? ["**dist is older than src: run `npm run build`**"] : []),
  ].join(", ");
}
