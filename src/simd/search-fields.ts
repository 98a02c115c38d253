/*
 * The numbers and addresses of a search, 32 bits each, in the order of `src/4-search/search-state.ts`: `state` is the address of the first.
 */

export const COLUMNS: usize = 0 << 2;
export const ROWS: usize = 1 << 2;
export const FIRST_ROW: usize = 2 << 2;
export const LEVELS: usize = 3 << 2;
export const CASES: usize = 4 << 2;
export const SAMPLES_ALONG: usize = 5 << 2;
export const SAMPLES_ACROSS: usize = 6 << 2;
export const STEPS: usize = 7 << 2;
export const STEPS_PER_DOSE: usize = 8 << 2;
export const ACROSS_BEFORE: usize = 9 << 2;
export const ACROSS_AFTER: usize = 10 << 2;
export const EXACT_PX: usize = 11 << 2;
export const EYE_ALONG: usize = 12 << 2;
export const EYE_ACROSS: usize = 13 << 2;
export const BOX_LENGTH: usize = 14 << 2;
export const CODES: usize = 15 << 2;
export const MOVES: usize = 16 << 2;
export const WEIGHT: usize = 17 << 2;
export const PULL: usize = 18 << 2;
export const LUMINANCE: usize = 19 << 2;
export const DOSE: usize = 20 << 2;
export const SURFACE: usize = 21 << 2;
export const COUPLING: usize = 22 << 2;
export const SLACK: usize = 23 << 2;
export const REST: usize = 24 << 2;
export const SEEN: usize = 25 << 2;
export const SEEN_RIGHT: usize = 26 << 2;
export const SEEN_DOWN: usize = 27 << 2;
export const ACROSS_DOSE: usize = 28 << 2;
export const BOX: usize = 29 << 2;
export const FIRST_DOSE: usize = 30 << 2;
export const SECOND_DOSE: usize = 31 << 2;
export const AFTER: usize = 32 << 2;
export const CHANGE: usize = 33 << 2;
export const ACTING: usize = 34 << 2;
export const SHARES: usize = 35 << 2;
export const SUMS: usize = 36 << 2;
export const COUNTS: usize = 37 << 2;
export const GAINED: usize = 38 << 2;
export const EYE: usize = 39 << 2;
export const EYE_COLUMNS: usize = 40 << 2;
export const EYE_MIDDLE: usize = 41 << 2;
export const EVEN_LINES: usize = 42 << 2;
export const ODD_LINES: usize = 50 << 2;

/** Of a line. */
export const BEFORE: usize = 0 << 2;
export const AFTER_PX: usize = 1 << 2;
export const LINE_DOSE: usize = 2 << 2;
export const HAS_BURSTS: usize = 3 << 2;
export const DIRECTION: usize = 4 << 2;
export const SHORTENS: usize = 5 << 2;
export const WHOLE_PX: usize = 6 << 2;
export const PART_DOSE: usize = 7 << 2;

export const NONE: i32 = -1;
export const VISIT: f64 = -1;
export const LEAST_GAIN: f64 = -1e-9;

// @ts-ignore: decorator
@inline
export function int(address: usize): i32 {
  return load<i32>(address);
}

// @ts-ignore: decorator
@inline
export function pointer(address: usize): usize {
  return <usize>load<u32>(address);
}

// @ts-ignore: decorator
@inline
export function lineOf(state: usize, y: i32): usize {
  return (int(state + FIRST_ROW) + y) & 1 ? state + ODD_LINES : state + EVEN_LINES;
}
