import type { SpotpitchError } from "../../core/errors.js";
import { refusal } from "../../core/refusals/refusals.js";
import { fileKind } from "../file-kind.js";
import type { PhotoSource } from "../photo-source.js";
import { oversizedPhoto } from "../refusals.js";

/** Formats that the renderer shows inside a drawing, a drawing only by its name. The others vanish from it without a word. */
const isShown = (format: string | undefined, address: string): boolean =>
  format === "svg" ? /^data:\s*image\/svg/i.test(address) : format === "png" || format === "jpeg";

/** Side of the small picture in which a trial looks for anything visible. */
const TRIAL_PX = 16;

/**
 * Pixels of all pictures in a drawing, by what they declare.
 *
 * @throws SpotpitchError `INPUT_DAMAGED`, `INPUT_TOO_LARGE` or `INPUT_UNSAFE_DRAWING` if one of them cannot be shown
 */
export async function embeddedPixels(
  { decoder, name, reading }: PhotoSource,
  pictures: readonly string[],
  maxPixels: number,
): Promise<number> {
  let pixels = 0;
  for (const address of pictures) {
    const bytes = bytesOf(address);
    const { format, width, height } = await orDamaged(name, decoder(bytes, reading).metadata());
    if (!isShown(format, address)) throw notShown(name, bytes);
    const inside = `A picture in ${/^The /.test(name) ? "the drawing" : name}`;
    if (width * height > maxPixels) throw oversizedPhoto(inside, width, height, maxPixels);
    pixels += width * height;
  }
  return pixels;
}

/**
 * Decode every picture in a drawing, and render each by itself: the renderer leaves out what it cannot read, and draws what is
 * there of a file that is cut off.
 *
 * @throws SpotpitchError `INPUT_DAMAGED` or `INPUT_UNSAFE_DRAWING`
 */
export async function checkEmbedded(source: PhotoSource, pictures: readonly string[]): Promise<void> {
  const { name } = source;
  for (const address of pictures) {
    const bytes = bytesOf(address);
    const own = await orDamaged(name, trial(source, bytes));
    const rendered = await trial(source, drawingOf(address));
    if (isVisible(own) && !isVisible(rendered)) throw notShown(name, bytes);
  }
}

/** A drawing of nothing but a picture. */
const drawingOf = (address: string): Uint8Array =>
  Buffer.from(
    `<svg xmlns="http://www.w3.org/2000/svg" width="${TRIAL_PX}" height="${TRIAL_PX}"><image width="${TRIAL_PX}" height="${TRIAL_PX}" preserveAspectRatio="none" href="${escaped(address)}"/></svg>`,
  );

/** Opacity of a picture at a small size. The whole file is read for it. */
const trial = ({ decoder, reading }: PhotoSource, bytes: Uint8Array): Promise<Uint8Array> =>
  decoder(bytes, reading)
    .resize(TRIAL_PX, TRIAL_PX, { fit: "fill" })
    .ensureAlpha()
    .extractChannel("alpha")
    .raw()
    .toBuffer();

const isVisible = (alpha: Uint8Array): boolean => alpha.some((opacity) => opacity > 0);

async function orDamaged<T>(name: string, work: Promise<T>): Promise<T> {
  try {
    return await work;
  } catch (cause) {
    throw refusal("drawing-picture-damaged", { name }, { cause });
  }
}

function notShown(name: string, bytes: Uint8Array): SpotpitchError {
  const kind = fileKind(bytes)?.name ?? "a picture of an unknown kind";
  return refusal("drawing-picture-not-shown", { name, kind }, { received: kind, allowed: "PNG or JPEG" });
}

const escaped = (text: string): string => text.replace(/[&<"]/g, (letter) => `&#${letter.charCodeAt(0)};`);

/** The content of a data address (RFC 2397). Nothing if it is not one. */
function bytesOf(address: string): Uint8Array {
  const [, header, data] = /^data:([^,]*),(.*)$/is.exec(address) ?? [];
  if (header === undefined || data === undefined) return new Uint8Array();
  const plain = data.includes("%") ? unescaped(data) : Buffer.from(data, "latin1");
  return /;\s*base64\s*$/i.test(header) ? Buffer.from(plain.toString("latin1"), "base64") : plain;
}

/** Bytes of a text with some of them as two hexadecimal digits (RFC 3986, 2.1). */
const unescaped = (text: string): Buffer =>
  Buffer.from(
    text.replace(/%([0-9a-f]{2})/gi, (_whole, hex: string) => String.fromCharCode(Number.parseInt(hex, 16))),
    "latin1",
  );
