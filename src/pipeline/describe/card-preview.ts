import type { CardGroup } from "../../6-report/card.js";
import { materialPainter } from "../../6-report/pictures/appearance.js";
import type { RgbPicture } from "../../6-report/pictures/canvas.js";
import { cardPicture } from "../../6-report/pictures/card-picture.js";
import { mmOf } from "../../7-card/card-grid.js";
import type { CardLayout } from "../../7-card/layout.js";
import { bareInside, cornersOf, frameOf } from "../../7-card/marks.js";
import { patternTile } from "../../7-card/patterns.js";
import type { CardPattern } from "../../core/card-pattern.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import type { ResolvedOptions } from "../../options/options.js";
import { createPatternTones } from "./pattern-tones.js";

/** The preview of a card: each patch in the mean tone that the exposure model predicts for its pattern. */
export function pictureOfCard(
  layout: CardLayout,
  groups: readonly CardGroup[],
  options: ResolvedOptions,
): RgbPicture {
  const { grid, spec, code, codeArea, patches } = layout;
  const { bareColor, markedColor, curve } = options.material;
  const mm = (area: PixelRectangle) => mmOf(area, grid.pitch);
  const numbers = new Map(
    groups.flatMap(({ patterns }) => patterns).map((each) => [each.pattern, each.number]),
  );
  const labelOf = (pattern: CardPattern): string => String(numbers.get(pattern) ?? pattern.kind);
  const tones = tonesOf(patches, spec.levels, options);
  const corners = cornersOf(grid);
  return cardPicture({
    widthMm: grid.columns * grid.pitch.alongMm,
    heightMm: grid.rows * grid.pitch.acrossMm,
    patches: patches.map(({ id, area, pattern }) => ({
      ...{ id, ...mm(area), label: labelOf(pattern), tone: tones(pattern) },
    })),
    burned: [...frameOf(grid), ...corners.map(({ area }) => area)].map(mm),
    bare: corners.flatMap((corner) => bareInside(corner, grid) ?? []).map(mm),
    code: { area: mm(codeArea), ...code },
    bareTone: curve.bare,
    solidTone: tones({ kind: "solid" }),
    paint: materialPainter(bareColor, markedColor, curve.bare, curve.saturated),
  });
}

/** The mean tone of each pattern. */
function tonesOf(
  patches: CardLayout["patches"],
  levels: number,
  options: ResolvedOptions,
): (pattern: CardPattern) => number {
  const toneOf = createPatternTones(options);
  const tones = new Map(
    [...new Set(patches.map(({ pattern }) => pattern))].map((pattern) => [
      pattern,
      toneOf(patternTile(pattern, levels)),
    ]),
  );
  return (pattern) => tones.get(pattern) ?? toneOf(patternTile(pattern, levels));
}
