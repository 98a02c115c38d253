/** The thread of `startBurnThread`: one burn stage that takes its steps in the order of the calls. */
import type { Chart } from "../../6-report/pages/chart.js";
import type { ResolvedOptions } from "../../options/options.js";
import { Handover } from "../../workers/link.js";
import { serveThread } from "../../workers/thread.js";
import { createJob } from "../job.js";
import { createBurnStage } from "./burn-stage.js";
import type { BitmapOrder } from "./burn-thread.js";

serveThread((options: ResolvedOptions, call) => {
  const stage = createBurnStage(createJob(options));
  let slots: readonly Int16Array[] = [];
  let last: Promise<unknown> = Promise.resolve();
  const inTurn = <Given, Answer>(step: (given: Given) => Promise<Answer>) => {
    return (given: Given): Promise<Answer> => {
      const answer = last.then(() => step(given));
      last = answer.catch(() => {});
      return answer;
    };
  };
  /** Copies bytes of the file into their own buffer, which can be transferred. */
  const write = (piece: Uint8Array): void => {
    const bytes = new Uint8Array(piece);
    void call("write", bytes, [bytes.buffer]);
  };
  return {
    measureCurve: inTurn(stage.measureCurve),
    begin: inTurn(({ slots: given, file, ...bitmap }: BitmapOrder) => {
      slots = given;
      return stage.begin({ ...bitmap, sink: file ? write : undefined });
    }),
    band: inTurn(async ({ slot, count }: { readonly slot: number; readonly count: number }) => {
      (await stage.room()).set(slots[slot]);
      return stage.band(count);
    }),
    end: inTurn(stage.end),
    pictures: inTurn(async (forPage: boolean) => {
      const made = await stage.pictures(forPage);
      const { predicted, unrolled } = made.page ?? {};
      const pictures = [made.preview, predicted, unrolled].filter((picture) => picture !== undefined);
      return new Handover(
        made,
        [...pictures.map(({ rgb }) => rgb), made.piece.values].map(({ buffer }) => buffer as ArrayBuffer),
      );
    }),
    draw: inTurn((chart: Chart) => stage.draw(chart)),
  };
});
