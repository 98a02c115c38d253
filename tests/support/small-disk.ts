import { execFileSync } from "node:child_process";
import { mkdirSync } from "node:fs";

/** A file system of its own, of so many kilobytes. */
export interface SmallDisk {
  readonly path: string;
  readonly remove: () => void;
}

/** Mount one at a path; undefined where that is not allowed, since it takes an administrator. */
export function mountSmallDisk(path: string, kilobytes: number): SmallDisk | undefined {
  mkdirSync(path, { recursive: true });
  try {
    execFileSync("mount", ["-t", "tmpfs", "-o", `size=${kilobytes}k`, "tmpfs", path], { stdio: "ignore" });
  } catch {
    return undefined;
  }
  return { path, remove: () => void execFileSync("umount", [path]) };
}

/** Why a test of a full disk is left out. */
export const NO_SMALL_DISK = "a small disk can be mounted by an administrator only";
