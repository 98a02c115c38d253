import { readFileSync } from "node:fs";

/** The package's own version, from its package.json: one source for the fact. */
export function packageVersion(): string {
  const manifest: unknown = JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8"));
  if (typeof manifest === "object" && manifest !== null && "version" in manifest)
    return String(manifest.version);
  return "unknown";
}
