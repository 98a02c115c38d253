import { writeFileSync } from "node:fs";
import sharp from "sharp";
import { drawSvg } from "../src/6-report/pages/chart-library.js";

/** One row of a sweep: a figure by the name of its column. */
export type SweepRow = Readonly<Record<string, number>>;

/** Rows by the name of the material. */
export type Sweep = Readonly<Record<string, readonly SweepRow[]>>;

const PANEL_PX = { width: 420, height: 200 } as const;
const COLOURS = { before: "#b0b0b0", after: "#b03a2e" } as const;

const isFigure = (name: string): boolean => name !== "linesPerInch";

/** Draws a panel for each column and material, the figures before in grey. A name that ends in .png gives pixels. */
export async function drawSweep(file: string, after: Sweep, before: Sweep): Promise<void> {
  const materials = Object.keys(after);
  const columns = Object.keys(after[materials[0]][0]).filter(isFigure);
  const [width, height] = [PANEL_PX.width * materials.length, PANEL_PX.height * columns.length];
  const panels = columns.flatMap((column, row) =>
    materials.map((material, place) => ({ column, material, row, place })),
  );
  const share = (px: number, of: number): string => `${(100 * px) / of}%`;
  const option = {
    animation: false,
    grid: panels.map(({ row, place }) => ({
      left: share(place * PANEL_PX.width + 60, width),
      top: share(row * PANEL_PX.height + 36, height),
      width: share(PANEL_PX.width - 80, width),
      height: share(PANEL_PX.height - 70, height),
    })),
    xAxis: panels.map((_, k) => ({ gridIndex: k, type: "value", min: 150, max: 1100 })),
    yAxis: panels.map(({ column, material }, k) => ({
      ...{ gridIndex: k, type: "value", scale: true },
      ...{ name: `${material}: ${column}`, nameTextStyle: { align: "left" } },
    })),
    series: panels.flatMap(({ column, material }, k) => [
      lineOf(before[material] ?? [], column, k, COLOURS.before),
      lineOf(after[material], column, k, COLOURS.after),
    ]),
  };
  const svg = drawSvg(option, width, height);
  if (!file.endsWith(".png")) return writeFileSync(file, svg);
  await sharp(Buffer.from(svg)).flatten({ background: "#ffffff" }).png().toFile(file);
}

const lineOf = (rows: readonly SweepRow[], column: string, panel: number, color: string): object => ({
  ...{ type: "line", xAxisIndex: panel, yAxisIndex: panel, symbolSize: 4, color },
  data: rows.map((row) => [row.linesPerInch, row[column]]),
});
