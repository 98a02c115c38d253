import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import type { CardRecipe } from "../../src/7-card/recipe.js";
import type { LightPlane } from "../../src/7-card-picture/light-plane.js";
import { linearFromSrgb } from "../../src/core/physics/transfer.js";
import { hasTool } from "./tool.js";

/** Whether the reader of colour charts is here. Asked for its usage, it ends with a status of its own: `sh` makes it 0. */
export const hasChartReader = hasTool("sh", ["-c", "command -v scanin"]);

/** Share of a patch's side that is left out at each end. */
const RIM = 0.12;

/** Linear light of a picture whose codes are sRGB. */
export async function lightOf(picture: Uint8Array): Promise<LightPlane> {
  const { data, info } = await sharp(picture).greyscale().raw().toBuffer({ resolveWithObject: true });
  return {
    columns: info.width,
    rows: info.height,
    light: Float32Array.from(data, (code) => linearFromSrgb(code / 255)),
  };
}

/** Mean light of every patch, by `scanin`, in a picture that a straight card fills from edge to edge. */
export async function chartMeans(
  { columns, rows, light }: LightPlane,
  recipe: CardRecipe,
): Promise<Map<string, number>> {
  const folder = mkdtempSync(join(tmpdir(), "chart-"));
  try {
    const codes = Uint16Array.from(light, (each) => Math.round(65535 * each));
    await sharp(codes, { raw: { width: columns, height: rows, channels: 1 } })
      .toColourspace("grey16")
      .tiff({ compression: "none" })
      .toFile(join(folder, "card.tif"));
    writeFileSync(join(folder, "card.cht"), chartText(recipe));
    const corners = [0, 0, columns, 0, columns, rows, 0, rows].join(",");
    const parameters = ["-o", "-m", "-F", corners, "card.tif", "card.cht"];
    const { status, stderr } = spawnSync("scanin", parameters, { cwd: folder, encoding: "utf8" });
    if (status !== 0) throw new Error(`scanin failed: ${stderr}`);
    return valuesOf(readFileSync(join(folder, "card.val"), "utf8"));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** A description of the chart: its corners, and a box for each patch, in tenths of a mm. */
function chartText({ widthMm, heightMm, patches }: CardRecipe): string {
  const unit = (mm: number): string => (10 * mm).toFixed(4);
  const [right, below] = [unit(widthMm), unit(heightMm)];
  const boxes = patches.map(
    ({ id, leftMm, topMm, widthMm: width, heightMm: height }) =>
      `  X ${id} ${id} _ _ ${unit(width)} ${unit(height)} ${unit(leftMm)} ${unit(topMm)} 0 0`,
  );
  return [
    `BOXES ${patches.length}`,
    `  F _ _ 0 0 ${right} 0 ${right} ${below} 0 ${below}`,
    ...boxes,
    `\nBOX_SHRINK ${unit(RIM * patches[0].widthMm)}`,
    "\nREF_ROTATION 0.0",
    `\nXLIST 2\n  0 1.0 1.0\n  ${right} 1.0 1.0`,
    `\nYLIST 2\n  0 1.0 1.0\n  ${below} 1.0 1.0\n`,
  ].join("\n");
}

/** Rows of the reader's table: the name of a box, and its mean, 0..255. */
function valuesOf(text: string): Map<string, number> {
  const [, body = ""] = /BEGIN_DATA\n([\s\S]*)END_DATA\n/.exec(text) ?? [];
  const rows = body.trim().split("\n");
  return new Map(
    rows.map((line) => line.trim().split(/\s+/)).map(([id, value]) => [id, Number(value) / 255]),
  );
}
