import type { KernelMemory } from "../core/kernel-memory.js";
import { bytesPerPackedRow } from "../core/packed-bits.js";
import { bandHalftone, isBackward } from "./band.js";
import { createDoseDecisions } from "./dose-decisions.js";
import { createDoseField } from "./dose-field.js";
import type { BandHalftone, BandSize, HalftoneSettings } from "./method.js";

/**
 * Error diffusion that keeps account of what its pixels do to the surface: it carries marked area, not burned pixels.
 *
 * A is the marked area at a dose (`SurfaceModel`), F the dose expected in the end: that of the pixels burned so far, and of
 * each pixel still to come its expected share m, which a flat tint of its tone burns. Deciding a pixel takes its expected dose
 * out of F and, if it burns, puts its real dose in, s at each sample of its footprint:
 *
 *     d₁ = Σ A(F + (1 − m)·s) − A(F),   d₀ = Σ A(F − m·s) − A(F)      over the whole footprint, past and to come
 *     u = w + Σ received,   burn when u ≥ (d₀ + d₁)/2,   e = u − d
 *
 * w is the area asked for less the A(F) that the pixel had when F was nothing but expectation. All changes of ΣA(F) are charged,
 * so they telescope: area in the end = area expected in the beginning + Σd, and with Σd = Σw less the bounded error still in
 * hand, area in the end = area asked for, whatever m was. No tone curve is needed for that.
 *
 * m is what makes it start. With m = 0 this is diffusion by the area that a pixel adds to those before it (the plain form). In a
 * response's dead zone a lone dot adds nothing: it is either never burned (at overdrive 4.6 the whole picture stays bare) or
 * always, until marks run together in clumps, which leaves photographs 0.1 to 1 L* too dark. Among the dots that will follow, each dot
 * has its marginal area from the first on. Compared on two photographs, six densities and two materials: m from the response alone
 * (F is right where spots overlap much, but up to 1.7 L* of bias where they hardly do), m measured on flat tints (kept), a
 * limit on e (no change where m is right; kept at one marginal area against what no pixel can make good), errors carried in
 * units of dose (biased by up to 11 L*).
 *
 * The stencil is Sierra Lite's (½ ahead, ¼ below, ¼ behind), which had the least visual error of seven. Where spots overlap, noise on the
 * threshold, ±0.15 of the marginal area, breaks the lines that holes in dark tones would form; it also makes the pattern
 * weather a wandering dose better.
 *
 * Mark beyond the picture's sides, and beyond its top and bottom, counts as not asked for and is made good by the nearest pixels.
 */
export function startDoseFeedback(
  size: BandSize,
  settings: HalftoneSettings,
  memory: KernelMemory,
): BandHalftone {
  const { columns, rows } = size;
  const bytes = bytesPerPackedRow(columns);
  const field = createDoseField(settings.surface(), columns, rows, memory);
  const decisions = createDoseDecisions(field, columns, settings, memory);
  /** The first row since the start: negative where a lead-in is run. */
  let firstRow: number | undefined;

  function runRow(fractions: Int16Array, from: number, y: number, packed: Uint8Array, to: number): void {
    firstRow ??= y;
    field.enter(fractions, from, y);
    const decided = y - field.delayRows;
    // The lead-in was there to settle the error. Its dose is not on the surface.
    if (decided === 0 && firstRow < 0) field.beginAtTop();
    if (decided >= firstRow && decided < rows)
      decisions.decide(decided, isBackward(settings.scan, decided), packed, to);
    else packed.fill(0, to, to + bytes);
  }

  return bandHalftone(
    size,
    memory,
    {
      run: (fractions, packed, y, count) => {
        for (let row = 0; row < count; row++) runRow(fractions, row * columns, y + row, packed, row * bytes);
      },
      restart: () => {
        firstRow = undefined;
        field.restart();
        decisions.restart();
      },
    },
    field.delayRows,
  );
}
