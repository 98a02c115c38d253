/**
 * Fourier transforms of four sequences at a time. A `line` holds `length` complex values of each: value i of the four at
 * byte 32 · i, four real parts and then four imaginary parts. The length is a power of two.
 *
 * The forward transform decimates in frequency and the inverse in time (radix 4; W. M. Gentleman and G. Sande, Fast Fourier
 * transforms for fun and profit, AFIPS 29, 563 (1966)): the spectrum is in digit-reversed order, and nothing is reordered.
 *
 * Twiddles: for each pass from the longest, for each j < quarter: cos and sin of j, 2j and 3j · 2π/span.
 */

/** Transforms values to their spectrum in digit-reversed order. */
export function forwardLine(line: usize, length: i32, twiddles: usize): void {
  const end = line + ((<usize>length) << 5);
  let quarter = (<usize>length) << 3;
  for (; quarter > 32; quarter >>= 2) {
    const pastTwiddles = twiddles + (quarter >> 5) * 24;
    for (let block = line; block < end; block += quarter << 2) {
      let p0 = block;
      for (let t = twiddles; t < pastTwiddles; t += 24, p0 += 32) {
        const p1 = p0 + quarter;
        const p2 = p1 + quarter;
        const p3 = p2 + quarter;
        const a0r = v128.load(p0);
        const a0i = v128.load(p0, 16);
        const a1r = v128.load(p1);
        const a1i = v128.load(p1, 16);
        const a2r = v128.load(p2);
        const a2i = v128.load(p2, 16);
        const a3r = v128.load(p3);
        const a3i = v128.load(p3, 16);
        const b0r = f32x4.add(a0r, a2r);
        const b0i = f32x4.add(a0i, a2i);
        const b1r = f32x4.sub(a0r, a2r);
        const b1i = f32x4.sub(a0i, a2i);
        const b2r = f32x4.add(a1r, a3r);
        const b2i = f32x4.add(a1i, a3i);
        const b3r = f32x4.sub(a1r, a3r);
        const b3i = f32x4.sub(a1i, a3i);
        v128.store(p0, f32x4.add(b0r, b2r));
        v128.store(p0, f32x4.add(b0i, b2i), 16);
        storeTurnedBack(p1, f32x4.add(b1r, b3i), f32x4.sub(b1i, b3r), t);
        storeTurnedBack(p2, f32x4.sub(b0r, b2r), f32x4.sub(b0i, b2i), t + 8);
        storeTurnedBack(p3, f32x4.sub(b1r, b3i), f32x4.add(b1i, b3r), t + 16);
      }
    }
    twiddles = pastTwiddles;
  }
  // The last pass has twiddles of 1: quarters of one value, or halves if the length is no power of four.
  if (quarter === 32) {
    for (let p = line; p < end; p += 128) {
      const b0r = f32x4.add(v128.load(p), v128.load(p, 64));
      const b0i = f32x4.add(v128.load(p, 16), v128.load(p, 80));
      const b1r = f32x4.sub(v128.load(p), v128.load(p, 64));
      const b1i = f32x4.sub(v128.load(p, 16), v128.load(p, 80));
      const b2r = f32x4.add(v128.load(p, 32), v128.load(p, 96));
      const b2i = f32x4.add(v128.load(p, 48), v128.load(p, 112));
      const b3r = f32x4.sub(v128.load(p, 32), v128.load(p, 96));
      const b3i = f32x4.sub(v128.load(p, 48), v128.load(p, 112));
      v128.store(p, f32x4.add(b0r, b2r));
      v128.store(p, f32x4.add(b0i, b2i), 16);
      v128.store(p, f32x4.add(b1r, b3i), 32);
      v128.store(p, f32x4.sub(b1i, b3r), 48);
      v128.store(p, f32x4.sub(b0r, b2r), 64);
      v128.store(p, f32x4.sub(b0i, b2i), 80);
      v128.store(p, f32x4.sub(b1r, b3i), 96);
      v128.store(p, f32x4.add(b1i, b3r), 112);
    }
  } else addAndSubtractPairs(line, end);
}

/** Transforms a spectrum in digit-reversed order to `length` times its values. */
export function inverseLine(line: usize, length: i32, twiddles: usize): void {
  const end = line + ((<usize>length) << 5);
  const whole = (<usize>length) << 5;
  let quarter: usize;
  if (ctz(length) & 1) {
    addAndSubtractPairs(line, end);
    quarter = 64;
  } else {
    for (let p = line; p < end; p += 128) {
      const d0r = f32x4.add(v128.load(p), v128.load(p, 64));
      const d0i = f32x4.add(v128.load(p, 16), v128.load(p, 80));
      const d1r = f32x4.sub(v128.load(p), v128.load(p, 64));
      const d1i = f32x4.sub(v128.load(p, 16), v128.load(p, 80));
      const d2r = f32x4.add(v128.load(p, 32), v128.load(p, 96));
      const d2i = f32x4.add(v128.load(p, 48), v128.load(p, 112));
      const d3r = f32x4.sub(v128.load(p, 32), v128.load(p, 96));
      const d3i = f32x4.sub(v128.load(p, 48), v128.load(p, 112));
      v128.store(p, f32x4.add(d0r, d2r));
      v128.store(p, f32x4.add(d0i, d2i), 16);
      v128.store(p, f32x4.sub(d1r, d3i), 32);
      v128.store(p, f32x4.add(d1i, d3r), 48);
      v128.store(p, f32x4.sub(d0r, d2r), 64);
      v128.store(p, f32x4.sub(d0i, d2i), 80);
      v128.store(p, f32x4.add(d1r, d3i), 96);
      v128.store(p, f32x4.sub(d1i, d3r), 112);
    }
    quarter = 128;
  }
  // The twiddles of a span are before those of all shorter spans.
  let past = twiddles;
  for (let q = whole >> 2; q > 32; q >>= 2) past += (q >> 5) * 24;
  for (; quarter < whole; quarter <<= 2) {
    const first = past - (quarter >> 5) * 24;
    for (let block = line; block < end; block += quarter << 2) {
      let p0 = block;
      for (let t = first; t < past; t += 24, p0 += 32) {
        const p1 = p0 + quarter;
        const p2 = p1 + quarter;
        const p3 = p2 + quarter;
        const y1r = v128.load(p1);
        const y1i = v128.load(p1, 16);
        const w1r = v128.load32_splat(t);
        const w1i = v128.load32_splat(t, 4);
        const c1r = f32x4.sub(f32x4.mul(y1r, w1r), f32x4.mul(y1i, w1i));
        const c1i = f32x4.add(f32x4.mul(y1i, w1r), f32x4.mul(y1r, w1i));
        const y3r = v128.load(p3);
        const y3i = v128.load(p3, 16);
        const w3r = v128.load32_splat(t, 16);
        const w3i = v128.load32_splat(t, 20);
        const c3r = f32x4.sub(f32x4.mul(y3r, w3r), f32x4.mul(y3i, w3i));
        const c3i = f32x4.add(f32x4.mul(y3i, w3r), f32x4.mul(y3r, w3i));
        const d2r = f32x4.add(c1r, c3r);
        const d2i = f32x4.add(c1i, c3i);
        const d3r = f32x4.sub(c1r, c3r);
        const d3i = f32x4.sub(c1i, c3i);
        const y2r = v128.load(p2);
        const y2i = v128.load(p2, 16);
        const w2r = v128.load32_splat(t, 8);
        const w2i = v128.load32_splat(t, 12);
        const c2r = f32x4.sub(f32x4.mul(y2r, w2r), f32x4.mul(y2i, w2i));
        const c2i = f32x4.add(f32x4.mul(y2i, w2r), f32x4.mul(y2r, w2i));
        const c0r = v128.load(p0);
        const c0i = v128.load(p0, 16);
        const d0r = f32x4.add(c0r, c2r);
        const d0i = f32x4.add(c0i, c2i);
        const d1r = f32x4.sub(c0r, c2r);
        const d1i = f32x4.sub(c0i, c2i);
        v128.store(p0, f32x4.add(d0r, d2r));
        v128.store(p0, f32x4.add(d0i, d2i), 16);
        v128.store(p1, f32x4.sub(d1r, d3i));
        v128.store(p1, f32x4.add(d1i, d3r), 16);
        v128.store(p2, f32x4.sub(d0r, d2r));
        v128.store(p2, f32x4.sub(d0i, d2i), 16);
        v128.store(p3, f32x4.add(d1r, d3i));
        v128.store(p3, f32x4.sub(d1i, d3r), 16);
      }
    }
    past = first;
  }
}

/** Multiplies by the conjugate twiddle at t, and stores. */
function storeTurnedBack(to: usize, real: v128, imaginary: v128, t: usize): void {
  const c = v128.load32_splat(t);
  const s = v128.load32_splat(t, 4);
  v128.store(to, f32x4.add(f32x4.mul(real, c), f32x4.mul(imaginary, s)));
  v128.store(to, f32x4.sub(f32x4.mul(imaginary, c), f32x4.mul(real, s)), 16);
}

function addAndSubtractPairs(line: usize, end: usize): void {
  for (let p = line; p < end; p += 64) {
    const r0 = v128.load(p);
    const i0 = v128.load(p, 16);
    const r1 = v128.load(p, 32);
    const i1 = v128.load(p, 48);
    v128.store(p, f32x4.add(r0, r1));
    v128.store(p, f32x4.add(i0, i1), 16);
    v128.store(p, f32x4.sub(r0, r1), 32);
    v128.store(p, f32x4.sub(i0, i1), 48);
  }
}

/** Multiplies both parts of each value of a line: factors [length × 4] float32. */
export function multiplyLine(line: usize, factors: usize, length: i32): void {
  for (let end = line + ((<usize>length) << 5); line < end; line += 32, factors += 16) {
    const f = v128.load(factors);
    v128.store(line, f32x4.mul(v128.load(line), f));
    v128.store(line, f32x4.mul(v128.load(line, 16), f), 16);
  }
}

/** Packs four rows of real and four of imaginary parts, each [4 × length] float32, into a line. */
export function lineFromRows(real: usize, imaginary: usize, length: i32, line: usize): void {
  const row = (<usize>length) << 2;
  for (let end = real + row; real < end; real += 16, imaginary += 16, line += 128) {
    transpose(real, row, line, 32);
    transpose(imaginary, row, line + 16, 32);
  }
}

/** The reverse of `lineFromRows`. */
export function rowsFromLine(line: usize, length: i32, real: usize, imaginary: usize): void {
  const row = (<usize>length) << 2;
  for (let end = real + row; real < end; real += 16, imaginary += 16, line += 128) {
    transpose(line, 32, real, row);
    transpose(line + 16, 32, imaginary, row);
  }
}

/**
 * Copies a line along four rows to the lines across: four values of each row go to four consecutive values at `columns`. The next
 * line is `apart` bytes further.
 */
export function spreadLine(line: usize, length: i32, columns: usize, apart: usize): void {
  for (let end = line + ((<usize>length) << 5); line < end; line += 128, columns += apart) {
    transpose(line, 32, columns, 32);
    transpose(line + 16, 32, columns + 16, 32);
  }
}

/** The reverse of `spreadLine`. */
export function collectLine(columns: usize, apart: usize, length: i32, line: usize): void {
  for (let end = line + ((<usize>length) << 5); line < end; line += 128, columns += apart) {
    transpose(columns, 32, line, 32);
    transpose(columns + 16, 32, line + 16, 32);
  }
}

/** Transposes four vectors of four, `fromStep` bytes apart. */
function transpose(from: usize, fromStep: usize, to: usize, toStep: usize): void {
  const a = v128.load(from);
  const b = v128.load(from + fromStep);
  const c = v128.load(from + 2 * fromStep);
  const d = v128.load(from + 3 * fromStep);
  const ab = v128.shuffle<f32>(a, b, 0, 4, 1, 5);
  const cd = v128.shuffle<f32>(c, d, 0, 4, 1, 5);
  const abHigh = v128.shuffle<f32>(a, b, 2, 6, 3, 7);
  const cdHigh = v128.shuffle<f32>(c, d, 2, 6, 3, 7);
  v128.store(to, v128.shuffle<f32>(ab, cd, 0, 1, 4, 5));
  v128.store(to + toStep, v128.shuffle<f32>(ab, cd, 2, 3, 6, 7));
  v128.store(to + 2 * toStep, v128.shuffle<f32>(abHigh, cdHigh, 0, 1, 4, 5));
  v128.store(to + 3 * toStep, v128.shuffle<f32>(abHigh, cdHigh, 2, 3, 6, 7));
}
