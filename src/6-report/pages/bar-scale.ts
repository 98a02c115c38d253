/** A vertical axis for bars from zero. */
export interface BarScale {
  /** Share of the height, 0..1 from the bottom. A value beyond the axis is at its end. */
  readonly shareOf: (value: number) => number;
  /** True for a value beyond the axis. */
  readonly isFar: (value: number) => boolean;
}

/** A value is far off if its size is more than this many times the size that three quarters of the values do not exceed. */
const FAR = 3;

/** Room beyond the largest bar that fits, as a share of the axis: a bar that is cut goes on into it. */
const ROOM = 0.15;

/** An axis for these values. A value far off would flatten all other bars, so its bar is cut. The axis is linear. */
export function barScale(values: readonly number[]): BarScale {
  const limit = FAR * usualSize(values);
  // If nearly all bars are zero there is nothing to flatten. Of two values neither is the usual one.
  const isFar = (value: number): boolean => limit > 0 && values.length > 2 && Math.abs(value) > limit;
  const near = values.filter((value) => !isFar(value));
  const [low, high] = [Math.min(0, ...near), Math.max(0, ...near)];
  const room = (ROOM * (high - low)) / (1 - ROOM);
  const bottom = values.some((value) => isFar(value) && value < 0) ? low - room : low;
  const top = values.some((value) => isFar(value) && value > 0) ? high + room : high;
  const shareOf = (value: number): number =>
    top > bottom ? Math.min(1, Math.max(0, (value - bottom) / (top - bottom))) : 0;
  return { shareOf, isFar };
}

/** The size at three quarters of the way through the sorted values, counted down; 0 without values. */
function usualSize(values: readonly number[]): number {
  const sizes = values.map(Math.abs).sort((a, b) => a - b);
  return sizes[Math.floor(0.75 * (sizes.length - 1))] ?? 0;
}
