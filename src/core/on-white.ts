const WHITE = 65535;

/** The code of a pixel that lies on white, 0..65535. @param opacity 0..65535 */
export const onWhite = (code: number, opacity: number): number =>
  WHITE - Math.round(((WHITE - code) * opacity) / WHITE);
