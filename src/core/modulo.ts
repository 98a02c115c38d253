/** The remainder of a division, 0 to below `period` for negative values too. */
export const modulo = (value: number, period: number): number => ((value % period) + period) % period;
