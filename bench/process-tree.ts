import { readdirSync, readFileSync } from "node:fs";

/**
 * Memory that a process and all that it has started hold just now, in bytes: pages that several share are counted once in all
 * (proportional set size). Linux only.
 */
export function treeBytes(pid: number): number {
  return [pid, ...descendantsOf(pid)].reduce((sum, each) => sum + proportionalBytes(each), 0);
}

function descendantsOf(pid: number): number[] {
  const parents = new Map<number, number>();
  for (const name of readdirSync("/proc")) {
    const stat = /^\d+$/.test(name) ? textOf(`/proc/${name}/stat`) : "";
    // The command's name stands in brackets and may hold anything.
    const parent = /^.*\) \S+ (\d+)/s.exec(stat)?.[1];
    if (parent !== undefined) parents.set(Number(name), Number(parent));
  }
  const below = (ancestor: number): number[] =>
    [...parents].filter(([, parent]) => parent === ancestor).flatMap(([child]) => [child, ...below(child)]);
  return below(pid);
}

const proportionalBytes = (pid: number): number =>
  1024 * Number(/^Pss:\s+(\d+) kB/m.exec(textOf(`/proc/${pid}/smaps_rollup`))?.[1] ?? 0);

/** Empty for a process that has ended meanwhile. */
function textOf(path: string): string {
  try {
    return readFileSync(path, "utf8");
  } catch {
    return "";
  }
}
