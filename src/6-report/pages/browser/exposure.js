/*
 * The loupe burns the few pixels in its view from weights and tables that come with the page.
 */

/**
 * @typedef {{ direction: number, shortens: boolean, wholePx: number, part: number[] }} Bursts
 * @typedef {{ before: number, width: number, taps: number[], bursts?: Bursts }} Taps see LoupeTaps
 * @typedef {{ samplesAlong: number, samplesAcross: number, evenLines: Taps, oddLines: Taps, across: Taps, lineExponent: number,
 *   closed: boolean, inverseDose: [number, number], lastDose: number, luminance: number[], colours: string }} Burn see LoupeBurn
 * @typedef {{ columns: number, rows: number, firstRow: number }} Exposed a window of pixels, its first row counted on the
 *   piece: odd lines may differ
 */

/** Pixels before and after a pixel on its line that reach into it. @param {Burn} burn */
export function reachAlong({ evenLines, oddLines }) {
  const before = Math.max(evenLines.before, oddLines.before);
  const after = Math.max(evenLines.width - evenLines.before, oddLines.width - oddLines.before) - 1;
  const more = evenLines.bursts ? evenLines.bursts.wholePx + 1 : 0;
  return { before: before + more, after: after + more };
}

/**
 * The dose of a window of pixels at every sample.
 *
 * @param {Burn} burn
 * @param {Float32Array} levels [rows × columns] share of full power, 0..1, with the pixels around the window that reach into it
 * @param {Exposed} exposed
 */
export function expose(burn, levels, exposed) {
  const { samplesAcross, across, lineExponent } = burn;
  const wide = exposed.columns * burn.samplesAlong;
  const along = exposeAlong(burn, levels, exposed);
  const dose = new Float32Array(exposed.rows * samplesAcross * wide);
  for (let y = 0; y < exposed.rows; y++) {
    for (let t = 0; t < samplesAcross; t++) {
      const to = (y * samplesAcross + t) * wide;
      for (let k = 0; k < across.width; k++) {
        const weight = across.taps[t * across.width + k] ** lineExponent;
        for (let i = 0; i < wide; i++) dose[to + i] += weight * along[(y + k) * wide + i];
      }
    }
  }
  return lineExponent === 1 ? dose : dose.map((sum) => sum ** (1 / lineExponent));
}

/** The dose that each line leaves along itself. @param {Burn} burn @param {Float32Array} levels @param {Exposed} exposed */
function exposeAlong(burn, levels, { columns, rows, firstRow }) {
  const { samplesAlong, evenLines, oddLines, across, lineExponent } = burn;
  const { before, after } = reachAlong(burn);
  const stride = columns + before + after;
  const lines = rows + across.width - 1;
  const along = new Float32Array(lines * columns * samplesAlong);
  for (let y = 0, to = 0; y < lines; y++) {
    const line = (firstRow - across.before + y) % 2 === 0 ? evenLines : oddLines;
    const { whole, part } = splitBursts(levels.subarray(y * stride, (y + 1) * stride), line.bursts);
    for (let x = 0; x < columns; x++) {
      const first = x + before - line.before;
      for (let s = 0; s < samplesAlong; s++) {
        const taps = s * line.width;
        let dose = 0;
        for (let k = 0; k < line.width; k++) dose += whole[first + k] * line.taps[taps + k];
        if (line.bursts) {
          for (let k = 0; k < line.width; k++) dose += part[first + k] * line.bursts.part[taps + k];
        }
        along[to++] = dose ** lineExponent;
      }
    }
  }
  return along;
}

/**
 * The pixels of a line that burn as a whole, and those that burn in part. A burst loses pixels at its start, or gains some at its
 * end with the power of its last pixel.
 *
 * @param {Float32Array} line @param {Bursts} [bursts]
 */
function splitBursts(line, bursts) {
  if (!bursts) return { whole: line, part: line };
  const { direction, shortens, wholePx } = bursts;
  const whole = new Float32Array(line.length);
  const part = new Float32Array(line.length);
  // Pixels since the burst began, or since the last one ended.
  for (let n = 0, run = 0, last = 0; n < line.length; n++) {
    const x = direction === 1 ? n : line.length - 1 - n;
    const burns = line[x] > 0;
    run = burns === shortens ? run + 1 : 0;
    if (burns) last = line[x];
    const level = shortens ? line[x] : last;
    if (shortens ? run > wholePx + 1 : run <= wholePx) whole[x] = level;
    if (run === wholePx + 1) part[x] = level;
  }
  return { whole, part };
}
