import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import {
  Extractor,
  ExtractorConfig,
  type ExtractorLogLevel,
  type ExtractorMessage,
} from "@microsoft/api-extractor";
import { afterAll, describe, expect, it } from "vitest";

/*
 * tests/api/*.api.md contain everything that the package exports, with its types: a change of the public surface changes these
 * files. `npm run api` writes them again; look at the difference before you commit.
 */

const root = fileURLToPath(new URL("../", import.meta.url));
const reports = join(root, "tests/api");
const made = mkdtempSync(join(tmpdir(), "spotpitch-api-"));
afterAll(() => rmSync(made, { recursive: true, force: true }));

const compilerOptions = {
  module: "NodeNext",
  moduleResolution: "NodeNext",
  target: "ES2022",
  lib: ["ES2023"],
  types: ["node"],
  strict: true,
  skipLibCheck: true,
};
/** A const enum, which a file that is compiled by itself cannot name. */
const level = (name: "none" | "error") => ({ default: { logLevel: name as ExtractorLogLevel } });

interface ApiReport {
  readonly upToDate: boolean;
  readonly text: string;
  readonly messages: readonly string[];
}

/** The report on the exports of an entry point. It replaces the stored report if requested. */
function apiReport(entry: string): ApiReport {
  const declarations = join(root, `dist/${entry}.d.ts`);
  const reportFileName = `${entry}.api.md`;
  const config = ExtractorConfig.prepare({
    configObject: {
      projectFolder: root,
      mainEntryPointFilePath: declarations,
      compiler: { overrideTsconfig: { compilerOptions, files: [declarations] } },
      apiReport: {
        enabled: true,
        reportFileName,
        reportFolder: reports,
        reportTempFolder: made,
        includeForgottenExports: true,
      },
      docModel: { enabled: false },
      dtsRollup: { enabled: false },
      tsdocMetadata: { enabled: false },
      newlineKind: "lf",
      messages: {
        extractorMessageReporting: level("none"),
        tsdocMessageReporting: level("none"),
        compilerMessageReporting: level("error"),
      },
    },
    configObjectFullPath: undefined,
    packageJsonFullPath: join(root, "package.json"),
  });
  const messages: string[] = [];
  const result = Extractor.invoke(config, {
    localBuild: process.env.UPDATE_API === "1",
    messageCallback: (message: ExtractorMessage) => {
      message.handled = true;
      messages.push(`${message.messageId} ${message.text}`);
    },
  });
  const text = readFileSync(join(made, reportFileName), "utf8");
  return { upToDate: !result.apiReportChanged || process.env.UPDATE_API === "1", text, messages };
}

describe.each(["index", "stages", "physics"])("the surface of %s", (entry) => {
  const { upToDate, text, messages } = apiReport(entry);

  it("is the one that tests/api tells (else run: npm run api)", () => {
    expect(text).toMatch(/^export function /m);
    expect(upToDate).toBe(true);
  });

  it("has a comment on every exported name", () => {
    const bare = [
      ...text.matchAll(/\(undocumented\)\nexport (?:const|function|interface|type|class) (\w+)/g),
    ];
    expect(bare.map(([, name]) => name)).toEqual([]);
  });

  it("exports every type that it mentions, but the tables that options are checked by", () => {
    const forgotten = messages.flatMap(
      (message) => /^ae-forgotten-export .*"(\w+)"/.exec(message)?.[1] ?? [],
    );
    expect(forgotten.filter((name) => !/Schema$/.test(name))).toEqual([]);
  });
});
