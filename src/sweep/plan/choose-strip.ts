import { linesPerInchFromPitchMm } from "../../core/units.js";
import { densityWords, durationWords, mmWords, percentWords } from "../../core/words.js";
import { USUAL_STRIP_LINES_PER_INCH } from "../../options/plan-options.js";
import { referencePitchMm } from "../../pipeline/describe/density-facts.js";
import { type Candidates, type Choice, leastBy, linesOf, timesWords } from "./choice.js";

/** Density at which marks of this width overlap by the margin. */
export const strippingLinesPerInch = (markMm: number, margin: number): number =>
  linesPerInchFromPitchMm(markMm) * (1 + margin);

/**
 * The lowest density whose lines leave nothing of a coating between them, with the margin to spare. More would only repeat
 * what is done: a coating that is gone looks the same at any density (common practice, no source).
 */
export function chooseStrip({ lens, material, options, rows }: Candidates): Choice {
  const { margin, markMm } = options;
  const markWidthMm = rows[0].markWidthMm;
  const needed = strippingLinesPerInch(markWidthMm, margin);
  const enough = rows.filter(({ linesPerInch }) => linesPerInch >= needed - 1e-6);
  const measured =
    markMm === undefined
      ? material.shape === "steep"
        ? `A line at the power and speed that give a solid fill full tone at ${Math.round(linesPerInchFromPitchMm(referencePitchMm(lens.spot, material)))} lines per inch passes the coating's threshold over ${mmWords(markWidthMm)}`
        : `A line is taken to mark as much as the spot, ${mmWords(markWidthMm)}`
      : `A line marks ${mmWords(markWidthMm)} as measured`;
  const meet = `${measured}, so lines meet at ${densityWords(Math.ceil(linesPerInchFromPitchMm(markWidthMm)))} lines per inch; ${percentWords(margin)} of overlap as a margin makes it ${densityWords(Math.ceil(needed - 1e-6))}.`;
  const row = leastBy(enough.length > 0 ? enough : rows, ({ linesPerInch }) =>
    enough.length > 0 ? linesPerInch : -linesPerInch,
  );
  const whatWouldChangeIt = [
    `The width of a real line: engrave one, measure it and give it as --mark. ${narrowerWords(rows, row)}`,
    `Work that is not flat or not in focus marks wider but weaker; --margin ${Math.round(100 * (margin + 0.1))}% would ask for at least ${densityWords(Math.ceil(strippingLinesPerInch(markWidthMm, margin + 0.1)))} lines per inch.`,
  ];
  if (enough.length === 0) {
    const bare =
      row.markGapMm > 0 ? `leaves strips of ${mmWords(row.markGapMm)}` : "leaves less than that margin";
    return {
      row,
      meetsLimits: false,
      reason: `${meet} None of the densities offered is as high; ${linesOf(row)}, the highest, ${bare}.`,
      whatWouldChangeIt: [
        ...whatWouldChangeIt,
        `A spot wider than ${mmWords(lens.spot.acrossMm)}, for instance slightly out of focus.`,
      ],
      notes: [],
    };
  }
  const late = options.minutes !== undefined && row.seconds > 60 * options.minutes;
  const reason = [
    meet,
    `${linesOf(row)} is the lowest density ${options.densities ? "offered" : ""} with that overlap and takes ${durationWords(row.seconds)}.`.replace(
      "  ",
      " ",
    ),
    savedAgainst({ lens, material, options, rows }, row),
    late ? `That is more than the ${options.minutes} min allowed, but less leaves coating behind.` : "",
  ];
  return {
    row,
    meetsLimits: !late,
    reason: reason.filter(Boolean).join(" "),
    whatWouldChangeIt,
    notes: [],
  };
}

/** How narrow a mark the chosen density still stands, and the next one. */
function narrowerWords(rows: Candidates["rows"], row: Choice["row"]): string {
  const here = `At ${linesOf(row)} marks narrower than ${mmWords(row.pitchMm)} leave bare strips`;
  const next = rows.find(({ linesPerInch }) => linesPerInch > row.linesPerInch);
  return next
    ? `${here}; ${densityWords(next.linesPerInch)} stands them down to ${mmWords(next.pitchMm)}.`
    : `${here}.`;
}

/** What the denser row that the user would otherwise run costs. */
function savedAgainst({ options, rows }: Candidates, row: Choice["row"]): string {
  const other = againstRow(rows, options.against);
  if (!other || other.linesPerInch <= row.linesPerInch) return "";
  return `${linesOf(other)} would take ${timesWords(other.seconds / row.seconds)} as long (${durationWords(other.seconds)}) for the same clean surface: choosing ${densityWords(row.linesPerInch)} saves ${durationWords(other.seconds - row.seconds)}.`;
}

function againstRow(rows: Candidates["rows"], against: number | undefined): Choice["row"] | undefined {
  const wanted = against ?? USUAL_STRIP_LINES_PER_INCH;
  const near = rows.find(({ linesPerInch }) => Math.abs(linesPerInch - wanted) < 0.5);
  return near ?? rows[rows.length - 1];
}
