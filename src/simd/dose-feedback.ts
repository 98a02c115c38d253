import { packMasks } from "./bits";
import { RANDOM_STEP, randomBits } from "./random";

/*
 * Footprints come in groups of four neighbouring samples: `places` [groups] i32 holds the start of each, in samples from the first sample of a
 * pixel; `doses` [groups × 4] i32 holds the doses, 0 outside the footprint.
 */

/** Adds the expected dose of a row to the field: for each pixel its share [columns] i16 of a footprint. */
export function expectDoseRow(
  shares: usize,
  columns: i32,
  field: usize,
  samplesAlong: i32,
  places: usize,
  doses: usize,
  groups: i32,
): void {
  const half = i32x4.splat(8192);
  const advance = (<usize>samplesAlong) << 2;
  for (let end = shares + ((<usize>columns) << 1); shares < end; shares += 2, field += advance) {
    const share = <i32>load<i16>(shares);
    if (share == 0) continue;
    const factor = i32x4.splat(share);
    for (let k: usize = 0; k < (<usize>groups) << 2; k += 4) {
      const at = field + ((<usize>load<i32>(places + k)) << 2);
      const part = i32x4.shr_s(i32x4.add(i32x4.mul(v128.load(doses + (k << 2)), factor), half), 14);
      v128.store(at, i32x4.add(v128.load(at), part));
    }
  }
}

/**
 * Decides one row.
 *
 * @param fractions [columns] i16
 * @param shares [columns] i16
 * @param wanted [columns] i32
 * @param received [columns] i32 error of the row above, then for the row below; one spare number on either side
 * @param state of the random numbers before the row
 * @param noise in 1024ths of the marginal area
 * @param maxError in marginal areas
 * @param field at the first sample of the row's first pixel
 * @param doses of a pixel that goes on with a burst
 * @param begins doses of the first pixel of a burst that adds dose; the same place if there is no difference
 * @param lostPx pixels at the start of a burst that add no dose
 * @param areaByDose by dose step of 2^stepBits, stepBits 0 or more
 * @param packed [⌈columns / 8⌉] u8, with a byte to spare
 * @param masks [columns] i16, with 16 to spare
 */
export function decideDoseRow(
  fractions: usize,
  shares: usize,
  wanted: usize,
  received: usize,
  columns: i32,
  backward: i32,
  state: u32,
  noise: i32,
  maxError: i32,
  field: usize,
  samplesAlong: i32,
  places: usize,
  doses: usize,
  begins: usize,
  lostPx: i32,
  groups: i32,
  areaByDose: usize,
  stepBits: i32,
  packed: usize,
  masks: usize,
): void {
  const half = i32x4.splat(8192);
  const step: isize = backward ? -1 : 1;
  const endOfPlaces = places + ((<usize>groups) << 2);
  let ahead = 0;
  let below = 0;
  let run = 0;
  let x: isize = backward ? <isize>columns - 1 : 0;
  for (let n = 0; n < columns; n++, x += step) {
    state += RANDOM_STEP;
    const fraction = <i32>load<i16>(fractions + (x << 1));
    let error = load<i32>(wanted + (x << 2)) + load<i32>(received + (x << 2)) + ahead;
    let burned = 0;
    if (fraction <= 0) {
      error >>= 1;
    } else if (fraction == 16384) {
      burned = -1;
      error >>= 1;
    } else {
      const share = i32x4.splat(<i32>load<i16>(shares + (x << 1)));
      const first = field + ((x * samplesAlong) << 2);
      let expected = 0;
      let without = 0;
      let withIt = 0;
      for (let place = places, dose = doses; place < endOfPlaces; place += 4, dose += 16) {
        const at = first + ((<usize>load<i32>(place)) << 2);
        const own = v128.load(dose);
        const known = v128.load(at);
        const rest = i32x4.sub(known, i32x4.shr_s(i32x4.add(i32x4.mul(own, share), half), 14));
        v128.store(at, rest);
        const a = i32x4.shl(i32x4.shr_u(known, stepBits), 2);
        const b = i32x4.shl(i32x4.shr_u(rest, stepBits), 2);
        const c = i32x4.shl(i32x4.shr_u(i32x4.add(rest, own), stepBits), 2);
        expected +=
          load<i32>(areaByDose + <usize>i32x4.extract_lane(a, 0)) +
          load<i32>(areaByDose + <usize>i32x4.extract_lane(a, 1)) +
          load<i32>(areaByDose + <usize>i32x4.extract_lane(a, 2)) +
          load<i32>(areaByDose + <usize>i32x4.extract_lane(a, 3));
        without +=
          load<i32>(areaByDose + <usize>i32x4.extract_lane(b, 0)) +
          load<i32>(areaByDose + <usize>i32x4.extract_lane(b, 1)) +
          load<i32>(areaByDose + <usize>i32x4.extract_lane(b, 2)) +
          load<i32>(areaByDose + <usize>i32x4.extract_lane(b, 3));
        withIt +=
          load<i32>(areaByDose + <usize>i32x4.extract_lane(c, 0)) +
          load<i32>(areaByDose + <usize>i32x4.extract_lane(c, 1)) +
          load<i32>(areaByDose + <usize>i32x4.extract_lane(c, 2)) +
          load<i32>(areaByDose + <usize>i32x4.extract_lane(c, 3));
      }
      const marginal = withIt - without;
      const random = <i32>(randomBits(state) >> 19) - 4096;
      const threshold =
        ((without - expected + (withIt - expected)) >> 1) +
        (((marginal >> 8) * ((noise * random) >> 13)) >> 2);
      if (error >= threshold) {
        burned = -1;
        let area = without;
        if (run > lostPx || (run === lostPx && begins === doses)) {
          for (let place = places, dose = doses; place < endOfPlaces; place += 4, dose += 16) {
            const at = first + ((<usize>load<i32>(place)) << 2);
            v128.store(at, i32x4.add(v128.load(at), v128.load(dose)));
          }
          area = withIt;
        } else if (run === lostPx) {
          area = 0;
          for (let place = places, dose = begins; place < endOfPlaces; place += 4, dose += 16) {
            const at = first + ((<usize>load<i32>(place)) << 2);
            const sum = i32x4.add(v128.load(at), v128.load(dose));
            v128.store(at, sum);
            const a = i32x4.shl(i32x4.shr_u(sum, stepBits), 2);
            area +=
              load<i32>(areaByDose + <usize>i32x4.extract_lane(a, 0)) +
              load<i32>(areaByDose + <usize>i32x4.extract_lane(a, 1)) +
              load<i32>(areaByDose + <usize>i32x4.extract_lane(a, 2)) +
              load<i32>(areaByDose + <usize>i32x4.extract_lane(a, 3));
          }
        }
        error -= area - expected;
      } else error -= without - expected;
      const limit = maxError * marginal;
      error = min(limit, max(-limit, error));
    }
    store<i16>(masks + (x << 1), burned);
    run = burned ? run + 1 : 0;
    ahead = error >> 1;
    const behind = error >> 2;
    store<i32>(received + ((x - step) << 2), below + behind);
    below = error - ahead - behind;
  }
  // Error that would leave at the end of the row goes below its last pixel.
  store<i32>(received + ((x - step) << 2), below + ahead);
  packMasks(masks, packed, columns);
}
