/** Runs cases from the first number given to before the second; says each before it begins, and how it ended. */
import { writeSync } from "node:fs";
import { createCases, validInputs } from "./cases.js";

const [from, to] = process.argv.slice(2).map(Number);
const cases = createCases(await validInputs());
for (let n = from; n < to; n++) {
  writeSync(1, `begin ${n}\n`);
  try {
    const { kind, ended } = await cases.run(n);
    writeSync(1, `end ${n} ${kind}: ${ended}\n`);
  } catch (error) {
    const told = error instanceof Error ? (error.stack ?? error.message) : String(error);
    writeSync(1, `fault ${n} ${told.replaceAll("\n", " | ")}\n`);
  }
}
cases.end();
