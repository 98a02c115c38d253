import type { Frame } from "../../3-resample/frame.js";
import { detailLimits } from "../../5-burn/detail.js";
import type { ToneCurve } from "../../5-burn/tone-curve.js";
import type { ChartFigure } from "../../6-report/pages/chart-types.js";
import { modulationFigure, toneCurveFigure, tonesFigure } from "../../6-report/pages/report-charts.js";
import { type DrawnFigure, reportPage } from "../../6-report/pages/report-page.js";
import { materialPainter } from "../../6-report/pictures/appearance.js";
import { createBoxMeans, meansRow } from "../../6-report/pictures/box-means.js";
import { encodePagePicture, paintedPicture } from "../../6-report/pictures/page-picture.js";
import { previewSize } from "../../6-report/pictures/preview.js";
import type { Report } from "../../6-report/report.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import type { CodeRows } from "../../core/plane-rows.js";
import type { ResolvedOptions } from "../../options/options.js";
import type { BurnStage } from "../burn/burn-stage.js";
import type { BurnModel } from "../job.js";
import { effectivePxPerMm } from "./describe-piece.js";
import type { PiecePictures } from "./piece-pictures.js";
import { scaleForScreen } from "./scale-for-screen.js";

/** A report's page while its piece is being made. */
export interface PageDraft {
  /** Sees the photo's luminance codes go by, row by row. */
  readonly watch: (codes: Uint16Array) => void;
  /** Asks for them itself, where nothing else does. */
  readonly look: (codes: CodeRows) => void;
  /** Has the charts drawn that need no prediction, while there is other work to do. */
  readonly begin: (methodId: string, curve: ToneCurve | undefined) => void;
  readonly finish: (report: Report, pictures: PiecePictures) => Promise<Uint8Array>;
}

export function createPageDraft(
  memory: KernelMemory,
  model: BurnModel,
  frame: Frame,
  options: ResolvedOptions,
  stage: Pick<BurnStage, "draw">,
): PageDraft {
  const { columns, rows, widthMm, heightMm } = frame;
  const { pitch, spot, motion, material, mirror } = options;
  const shown = previewSize(widthMm, heightMm, columns, rows);
  // Half-way by means of blocks while the rows pass, the rest by the filter that the prediction goes through.
  const half = (large: number, small: number): number => Math.max(1, Math.ceil(large / small / 2));
  const block = { along: half(columns, shown.columns), across: half(rows, shown.rows) };
  const wanted = createBoxMeans(columns, rows, block, model.wantedByCode);
  const paint = materialPainter(
    material.bareColor,
    material.markedColor,
    model.bare,
    model.response.saturated,
  );
  const early: Promise<DrawnFigure>[] = [];
  const drawn = async ({ title, caption, chart }: ChartFigure): Promise<DrawnFigure> => ({
    title,
    caption,
    html: await stage.draw(chart),
  });
  function wantedForScreen(): Float32Array {
    const means = wanted.picture();
    const counted = { columns: columns / block.along, rows: rows / block.across };
    const source = { row: meansRow(means), columns: means.columns, rows: means.rows, counted };
    return scaleForScreen(memory, source, shown, mirror);
  }
  return {
    watch: wanted.add,
    look(codes) {
      for (let y = 0; y < rows; y++) wanted.add(codes(y));
    },
    begin(methodId, curve) {
      const detail = detailLimits(pitch, spot, motion, effectivePxPerMm(frame, options));
      if (curve) early.push(drawn(toneCurveFigure(curve, methodId, options.levels)));
      early.push(drawn(modulationFigure(detail, options)));
      for (const chart of early) chart.catch(() => {}); // told when the page is finished
    },
    async finish(report, { page }) {
      if (!page) throw new Error("The pictures of the page were not asked for.");
      const { tonalResolution, job } = report;
      const late = tonalResolution ? [drawn(tonesFigure(tonalResolution, job.doseSpread))] : [];
      const [charts, wantedPicture, predictedPicture] = await Promise.all([
        Promise.all([...early, ...late]),
        encodePagePicture(paintedPicture(wantedForScreen(), shown.columns, shown.rows, paint)),
        encodePagePicture(page.predicted),
      ]);
      const text = reportPage({
        report,
        settings: options,
        pictures: { wanted: wantedPicture, predicted: predictedPicture },
        loupe: page.loupe,
        charts,
      });
      return Buffer.from(text);
    },
  };
}
