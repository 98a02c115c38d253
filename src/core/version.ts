import { packageFile } from "./package-files.js";

/** The version in the package.json of this package. */
export function packageVersion(): string {
  const manifest: unknown = JSON.parse(packageFile("../package.json").toString("utf8"));
  if (typeof manifest === "object" && manifest !== null && "version" in manifest)
    return String(manifest.version);
  return "unknown";
}
