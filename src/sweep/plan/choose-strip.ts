import { type Change, changedBy } from "../../6-report/words/plan-changes.js";
import { because, type Reason } from "../../6-report/words/plan-reasons.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { USUAL_STRIP_LINES_PER_INCH } from "../../options/plan-options.js";
import { referencePitchMm } from "../../pipeline/describe/density-facts.js";
import { type Candidates, type Choice, minBy } from "./choice.js";

/** The density at which marks of this width overlap by the margin. */
export const strippingLinesPerInch = (markMm: number, margin: number): number =>
  linesPerInchFromPitchMm(markMm) * (1 + margin);

/**
 * The lowest density whose lines leave no coating between them, with the margin. More density changes nothing: a removed coating
 * looks the same at any density (common practice, no source).
 */
export function chooseStrip(candidates: Candidates): Choice {
  const { lens, options, rows } = candidates;
  const needed = strippingLinesPerInch(rows[0].markWidthMm, options.margin);
  const enough = rows.filter(({ linesPerInch }) => linesPerInch >= needed - 1e-6);
  const row = minBy(enough.length > 0 ? enough : rows, ({ linesPerInch }) =>
    enough.length > 0 ? linesPerInch : -linesPerInch,
  );
  const changes = changesOf(candidates, row);
  const meet = linesMeet(candidates, needed);
  if (enough.length === 0) {
    return {
      row,
      meetsLimits: false,
      reasons: [meet, because("none-overlaps", { ...row, gapMm: row.markGapMm })],
      changes: [...changes, changedBy("wider-spot", { spotMm: lens.spot.acrossMm })],
      notes: [],
    };
  }
  const { minutes } = options;
  const late = minutes !== undefined && row.seconds > 60 * minutes;
  return {
    row,
    meetsLimits: !late,
    reasons: [
      meet,
      because("lowest-with-overlap", { ...row, offered: options.densities !== undefined }),
      ...savedAgainst(candidates, row),
      ...(late ? [because("strip-late", { minutes })] : []),
    ],
    changes,
    notes: [],
  };
}

/** The mark width of a line, and the density at which such lines overlap enough. */
function linesMeet({ lens, material, options, rows }: Candidates, neededLinesPerInch: number): Reason {
  const { markWidthMm: markMm } = rows[0];
  const modelled = material.shape === "steep" ? "threshold" : "spot";
  return because("lines-meet", {
    markMm,
    from: options.markMm === undefined ? modelled : "measured",
    referenceLinesPerInch: linesPerInchFromPitchMm(referencePitchMm(lens.spot, material)),
    meetLinesPerInch: linesPerInchFromPitchMm(markMm),
    margin: options.margin,
    neededLinesPerInch,
  });
}

/** The narrowest marks that the chosen and the next density tolerate, and the density for a larger margin. */
function changesOf({ rows, options }: Candidates, row: Choice["row"]): Change[] {
  const margin = options.margin + 0.1;
  return [
    changedBy("mark-width", {
      here: row,
      next: rows.find(({ linesPerInch }) => linesPerInch > row.linesPerInch),
    }),
    changedBy("larger-margin", {
      margin,
      linesPerInch: strippingLinesPerInch(rows[0].markWidthMm, margin),
    }),
  ];
}

/** The saving against the denser row that the user would otherwise run. */
function savedAgainst({ options, rows }: Candidates, chosen: Choice["row"]): Reason[] {
  const other = againstRow(rows, options.against);
  return other && other.linesPerInch > chosen.linesPerInch
    ? [because("saves-against", { other, chosen })]
    : [];
}

function againstRow(rows: Candidates["rows"], against: number | undefined): Choice["row"] | undefined {
  const wanted = against ?? USUAL_STRIP_LINES_PER_INCH;
  const near = rows.find(({ linesPerInch }) => Math.abs(linesPerInch - wanted) < 0.5);
  return near ?? rows[rows.length - 1];
}
