/** Ruling and angle of a clustered-dot screen, as they come out on the pixel grid. */
export interface ReportScreen {
  readonly linesPerInch: number;
  readonly angleDeg: number;
}

/**
 * A picture on a part of a round piece. Angles count in degrees from a mark of the user's (a seam, a handle), to the right with the
 * rim up. Lengths are measured down the surface, on a cone along its slope.
 */
export interface ReportPlaced {
  /** The picture itself. The bitmap of a picture that lies flat on a cone is larger. */
  readonly pictureWidthMm: number;
  readonly pictureHeightMm: number;
  /** Of the picture's middle. */
  readonly angleDeg: number;
  /** Of the left edge of the bitmap, 0 to 360, and the same as a length along the circle half-way down the bitmap. */
  readonly startAngleDeg: number;
  readonly startAlongMm: number;
  /** Width of the bitmap. */
  readonly turnDeg: number;
  /** From the rim to the top of the picture on its middle line, and to the upper edge of the bitmap. */
  readonly fromRim?: { readonly pictureMm: number; readonly bitmapMm: number };
  readonly wall?: {
    readonly lengthMm: number;
    readonly rimDiameterMm: number;
    readonly footDiameterMm: number;
  };
  /**
   * On a cone: the difference between a picture that lies flat on the unrolled surface and one whose rows follow the circles. Level
   * lines through the picture's middle bow by `bowMm`, and its top and bottom differ in width by `taperMm`.
   */
  readonly bend?: { readonly bowMm: number; readonly taperMm: number };
}

/** A piece that turns under the beam. The diameters are those at the upper and lower edge of the bitmap. */
export interface ReportAround {
  readonly topDiameterMm: number;
  readonly bottomDiameterMm: number;
  /** Circumference, of a cone half-way down. All the way round it is exactly `columns` × `pitchAlongMm`. */
  readonly circumferenceMm: number;
  /** Step in L* at the seam of the picture, and the median step between other neighbouring columns, at 256 columns or rows. */
  readonly seam?: { readonly stepLightness: number; readonly usualStepLightness: number };
  /** Ruling and angle of a clustered-dot screen that closes around the piece. */
  readonly screen?: ReportScreen;
  /** Only of a picture on a part of the piece. */
  readonly placed?: ReportPlaced;
  /** Only of a cone. Ranges are those from row to row, at a constant turning speed. */
  readonly cone?: {
    readonly layout: "flat" | "level";
    readonly slantHeightMm: number;
    readonly axialHeightMm: number;
    /** Between slope and axis. */
    readonly halfAngleDeg: number;
    /** The unrolled sheet: a sector of a ring. */
    readonly sectorAngleDeg: number;
    readonly sectorInnerRadiusMm: number;
    readonly sectorOuterRadiusMm: number;
    readonly pitchAlongMm: { readonly least: number; readonly most: number };
    /** Spot along / pitch along. */
    readonly overdriveAlong: { readonly least: number; readonly most: number };
    /** Dose relative to that half-way down, at the same power. */
    readonly doseFactor: { readonly least: number; readonly most: number };
  };
}
