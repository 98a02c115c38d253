import readExif from "exif-reader";
import sharp from "sharp";

/** What a camera wrote into a file beside the picture. */
export interface CameraFacts {
  /** Ln of exposure time × sensitivity / f-number², of any unit; undefined if the file does not say. */
  readonly lnExposure: number | undefined;
  /** Whether its colours are inks: such a file was made for print, and its tones are not those that the camera saw. */
  readonly isForPrint: boolean;
}

/** Facts of a picture that can be decoded. */
export async function cameraFacts(bytes: Uint8Array): Promise<CameraFacts> {
  const { exif, space } = await sharp(bytes).metadata();
  return { lnExposure: exif && lnExposureOf(exif), isForPrint: space === "cmyk" };
}

/** Damaged data say nothing. */
function lnExposureOf(exif: Buffer): number | undefined {
  try {
    const { Photo: facts } = readExif(exif);
    const { ExposureTime: seconds, FNumber: stop, ISOSpeedRatings: speed } = facts ?? {};
    const iso = Array.isArray(speed) ? speed[0] : speed;
    const lnExposure = Math.log((Number(seconds) * Number(iso)) / Number(stop) ** 2);
    return Number.isFinite(lnExposure) ? lnExposure : undefined;
  } catch {
    return undefined;
  }
}
