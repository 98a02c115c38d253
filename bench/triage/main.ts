/**
 * A pile of realistic uploads through triage, and the verdicts against what was planted: `npm run bench:triage`.
 *
 *     --count <n>    uploads (default 300)
 *     --keep <file>  also write what was planted and found, one line of JSON for each upload
 *
 * Exit code 1 if a requirement fails on the photographs on which no threshold was set.
 */
import { appendFileSync, writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { seededRandom } from "../../src/core/random.js";
import { type Judged, judgeUpload } from "./judged.js";
import { photographs } from "./photographs.js";
import { drawUploads } from "./planted.js";
import { failures, report } from "./verdicts.js";

const SEED = 1;

const { values } = parseArgs({ options: { count: { type: "string" }, keep: { type: "string" } } });
const uploads = drawUploads(Number(values.count ?? 300), [...photographs.keys()], seededRandom(SEED));
if (values.keep) writeFileSync(values.keep, "");
const all: Judged[] = [];
for (const [i, planted] of uploads.entries()) {
  const judged = await judgeUpload(planted, photographs.get(planted.photograph) ?? Buffer.alloc(0), i);
  all.push(judged);
  if (values.keep) appendFileSync(values.keep, `${JSON.stringify(judged)}\n`);
}
console.log(report(all));
const failed = failures(all.filter(({ planted }) => !planted.setting));
for (const line of failed) console.log(`\nFailed: ${line}`);
process.exitCode = failed.length > 0 ? 1 : 0;
