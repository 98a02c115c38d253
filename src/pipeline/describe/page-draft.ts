import type { Frame } from "../../3-resample/frame.js";
import { detailLimits } from "../../5-burn/detail.js";
import { fates, lossCauses } from "../../5-burn/lost-distinctions.js";
import type { ToneCurve } from "../../5-burn/tone-curve.js";
import type { ChartFigure } from "../../6-report/pages/chart-types.js";
import { modulationFigure, toneCurveFigure, tonesFigure } from "../../6-report/pages/report-charts.js";
import { type LossMap, lossColours } from "../../6-report/pages/report-losses.js";
import { type DrawnFigure, reportPage } from "../../6-report/pages/report-page.js";
import { createBoxMeans, meansRow } from "../../6-report/pictures/box-means.js";
import { encodeMap } from "../../6-report/pictures/loss-map.js";
import { encodePagePicture, paintedPicture } from "../../6-report/pictures/page-picture.js";
import { previewSize, type RgbPicture } from "../../6-report/pictures/preview.js";
import type { Report } from "../../6-report/report.js";
import type { CodeRows } from "../../core/plane-rows.js";
import type { Reader } from "../../core/reader.js";
import type { BurnStage } from "../burn/burn-stage.js";
import type { Job } from "../job.js";
import type { FateMap } from "../judge/fidelity.js";
import { effectivePxPerMm } from "./describe-piece.js";
import type { PiecePictures } from "./piece-pictures.js";
import { painterOf } from "./render-preview.js";
import { scaleForScreen } from "./scale-for-screen.js";

/** A report's page while its piece is being made. */
export interface PageDraft {
  /** Receives the photo's luminance codes row by row. */
  readonly watch: (codes: Uint16Array) => void;
  /** Reads all rows itself, if nothing else does. */
  readonly look: (codes: CodeRows) => void;
  /** Starts to draw the charts that need no prediction, while other work runs. */
  readonly begin: (methodId: string, curve: ToneCurve | undefined) => void;
  /** @param map of the fates of the photo's distinctions */
  readonly finish: (report: Report, pictures: PiecePictures, map: FateMap | undefined) => Promise<Uint8Array>;
}

export function createPageDraft(
  job: Job,
  frame: Frame,
  stage: Pick<BurnStage, "draw">,
  reader: Reader,
): PageDraft {
  const { options } = job;
  const wanted = wantedPicture(job, frame);
  const begun: Promise<DrawnFigure>[] = [];
  const drawn = async ({ title, caption, chart }: ChartFigure): Promise<DrawnFigure> => ({
    title,
    caption,
    html: await stage.draw(chart),
  });
  return {
    watch: wanted.add,
    look(codes) {
      for (let y = 0; y < frame.rows; y++) wanted.add(codes(y));
    },
    begin(methodId, curve) {
      const { pitch, spot, motion, levels } = options;
      const detail = detailLimits(pitch, spot, motion, effectivePxPerMm(frame, options));
      if (curve) begun.push(drawn(toneCurveFigure(curve, methodId, levels)));
      begun.push(drawn(modulationFigure(detail, options)));
      for (const chart of begun) chart.catch(() => {}); // reported when the page is finished
    },
    async finish(report, { page }, map) {
      if (!page) throw new Error("The pictures of the page were not requested.");
      const { tonalResolution, job } = report;
      const last = tonalResolution ? [drawn(tonesFigure(tonalResolution, job.spread))] : [];
      const [charts, ...pictures] = await Promise.all([
        Promise.all([...begun, ...last]),
        encodePagePicture(wanted.painted()),
        encodePagePicture(page.predicted),
        ...(page.unrolled ? [encodePagePicture(page.unrolled)] : []),
      ]);
      const [wantedFile, predictedFile, unrolled] = pictures;
      const files = { wanted: wantedFile, predicted: predictedFile, ...(unrolled && { unrolled }) };
      const losses = map && (await lossMap(map));
      return Buffer.from(
        reportPage({ report, settings: options, reader, pictures: files, losses, loupe: page.loupe, charts }),
      );
    },
  };
}

/** The map of the lost places; undefined if there are none. */
async function lossMap({ fate, columns, rows, ...place }: FateMap): Promise<LossMap | undefined> {
  const firstLoss = fates.indexOf("levels");
  if (!fate.some((one) => one >= firstLoss)) return undefined;
  const colours = lossCauses.map((cause) => [fates.indexOf(cause), lossColours[cause]] as const);
  return { ...place, file: await encodeMap(fate, { columns, rows }, new Map(colours)) };
}

/** The wanted picture at screen size, built while its rows pass. */
function wantedPicture(job: Job, { columns, rows, widthMm, heightMm }: Frame) {
  const { memory, model, options } = job;
  const onScreen = previewSize(widthMm, heightMm, columns, rows);
  // Block means do half of the reduction while the rows pass. The filter of the prediction does the rest.
  const half = (large: number, small: number): number => Math.max(1, Math.ceil(large / small / 2));
  const block = { along: half(columns, onScreen.columns), across: half(rows, onScreen.rows) };
  const boxes = createBoxMeans(columns, rows, block, model.wantedByCode);
  return {
    add: boxes.add,
    painted(): RgbPicture {
      const means = boxes.picture();
      const counted = { columns: columns / block.along, rows: rows / block.across };
      const source = { row: meansRow(means), columns: means.columns, rows: means.rows, counted };
      const scaled = scaleForScreen(memory, source, onScreen, options.mirror);
      return paintedPicture(scaled, onScreen.columns, onScreen.rows, painterOf(job));
    },
  };
}
