/*
 * The loupe burns the few pixels in its view from weights and tables that come with the page.
 */

/**
 * @typedef {{ before: number, width: number, taps: number[] }} Taps see LoupeTaps
 * @typedef {{ samplesAlong: number, samplesAcross: number, evenLines: Taps, oddLines: Taps, across: Taps, closed: boolean,
 *   inverseDose: [number, number], lastDose: number, luminance: number[], colours: string }} Burn see LoupeBurn
 * @typedef {{ columns: number, rows: number, firstRow: number }} Exposed a window of pixels, its first row counted on the
 *   piece: odd lines may differ
 */

/** Pixels before and after a pixel on its line that reach into it. @param {Burn} burn */
export function reachAlong({ evenLines, oddLines }) {
  const before = Math.max(evenLines.before, oddLines.before);
  const after = Math.max(evenLines.width - evenLines.before, oddLines.width - oddLines.before) - 1;
  return { before, after };
}

/**
 * The dose of a window of pixels at every sample.
 *
 * @param {Burn} burn
 * @param {Float32Array} levels [rows × columns] share of full power, 0..1, with the pixels around the window that reach into it
 * @param {Exposed} exposed
 */
export function expose(burn, levels, exposed) {
  const { samplesAcross, across } = burn;
  const wide = exposed.columns * burn.samplesAlong;
  const along = exposeAlong(burn, levels, exposed);
  const dose = new Float32Array(exposed.rows * samplesAcross * wide);
  for (let y = 0; y < exposed.rows; y++) {
    for (let t = 0; t < samplesAcross; t++) {
      const to = (y * samplesAcross + t) * wide;
      for (let k = 0; k < across.width; k++) {
        const weight = across.taps[t * across.width + k];
        for (let i = 0; i < wide; i++) dose[to + i] += weight * along[(y + k) * wide + i];
      }
    }
  }
  return dose;
}

/** The dose that each line leaves along itself. @param {Burn} burn @param {Float32Array} levels @param {Exposed} exposed */
function exposeAlong(burn, levels, { columns, rows, firstRow }) {
  const { samplesAlong, evenLines, oddLines, across } = burn;
  const { before, after } = reachAlong(burn);
  const stride = columns + before + after;
  const lines = rows + across.width - 1;
  const along = new Float32Array(lines * columns * samplesAlong);
  for (let y = 0, to = 0; y < lines; y++) {
    const line = (firstRow - across.before + y) % 2 === 0 ? evenLines : oddLines;
    for (let x = 0; x < columns; x++) {
      const first = y * stride + x + before - line.before;
      for (let s = 0; s < samplesAlong; s++) {
        let dose = 0;
        for (let k = 0; k < line.width; k++) dose += levels[first + k] * line.taps[s * line.width + k];
        along[to++] = dose;
      }
    }
  }
  return along;
}
