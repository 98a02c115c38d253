/** Many mutated files: `npm run fuzz -- 20000 [first]`. Exit status 1 where one does not end as it should. */
import { fuzz } from "./run.js";

const [count = 20_000, first = 0] = process.argv.slice(2).map(Number);
const { cases, accepted, peakRssBytes, longestMs, failures } = await fuzz(first, first + count);
process.stdout.write(
  `${cases} cases, ${accepted} accepted, the rest refused; longest ${(longestMs / 1000).toFixed(1)} s, most memory ${Math.round(peakRssBytes / 2 ** 20)} MiB\n${failures.map((failure) => `${failure}\n`).join("")}${failures.length} failures\n`,
);
process.exitCode = failures.length > 0 || cases < count ? 1 : 0;
