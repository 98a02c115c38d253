/** Limits on the work for one upload. */
export interface UploadLimits {
  /** Pixels that a picture may declare. */
  readonly maxPixels: number;
  /** Bytes of a file. */
  readonly maxBytes: number;
  /** Seconds that one upload may take. */
  readonly maxSeconds: number;
}

/** They accept the picture of a 108-megapixel phone. At these limits a decoder needs about 2 GB. */
export const defaultLimits: UploadLimits = { maxPixels: 150e6, maxBytes: 200e6, maxSeconds: 60 };
