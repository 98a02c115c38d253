import type { Crop, Focus, PlaceOnRound } from "../core/picture-places.js";
import { invalid } from "./option-error.js";
import { parseAngleDeg, parseLengthMm } from "./quantities.js";

const PLACE = /^([+-]?(?:\d+(?:\.\d*)?|\.\d+))\s*(%|px)?$/i;

/** A part of a photo, left, top, width, height: `10%,5%,80%,60%`, or in pixels `400,0,1600,1200`. Throws `OPTION_INVALID`. */
export function parseCrop(option: string, text: string): Crop {
  const allowed =
    "left, top, width and height in percent such as 10%,5%,80%,60%, or in pixels such as 400,0,1600,1200";
  const { unit, values } = parsePlaces(option, text, 4, allowed);
  const [left, top, width, height] = values;
  if (width <= 0 || height <= 0) throw invalid(option, text, `${allowed}, width and height above 0`);
  return unit === "percent"
    ? { leftPercent: left, topPercent: top, widthPercent: width, heightPercent: height }
    : { leftPx: left, topPx: top, widthPx: width, heightPx: height };
}

/** A point of a photo: `40%,30%`, or in pixels `1200,800`. Throws `OPTION_INVALID`. */
export function parseFocus(option: string, text: string): Focus {
  const allowed = "a point in percent such as 40%,30%, or in pixels such as 1200,800";
  const { unit, values } = parsePlaces(option, text, 2, allowed);
  const [x, y] = values;
  return unit === "percent" ? { xPercent: x, yPercent: y } : { xPx: x, yPx: y };
}

const DEGREES = /(?:deg|°)$/i;

/**
 * A place on a round piece, from the rim and from a mark: `20mm,90deg`, or one of the two alone. Throws `OPTION_INVALID`.
 */
export function parsePlaceOnRound(option: string, text: string): PlaceOnRound {
  const allowed =
    "a distance from the rim and an angle from your mark such as 20mm,90deg, or one of them such as 20mm or 90deg";
  const [first, second, ...rest] = text.split(",").map((part) => part.trim());
  if (rest.length > 0 || first === "" || second === "") throw invalid(option, text, allowed);
  const isAngle = DEGREES.test(first);
  if (second === undefined) {
    return isAngle ? { angleDeg: parseAngleDeg(option, first) } : { fromRimMm: parseLengthMm(option, first) };
  }
  const [length, angle] = isAngle ? [second, first] : [first, second];
  return { fromRimMm: parseLengthMm(option, length), angleDeg: parseAngleDeg(option, angle) };
}

function parsePlaces(option: string, text: string, count: number, allowed: string) {
  const parts = text.split(",").map((part) => PLACE.exec(part.trim()));
  const units = new Set(parts.map((part) => (part?.[2] === "%" ? "percent" : "px")));
  if (parts.length !== count || parts.includes(null) || units.size !== 1)
    throw invalid(option, text, allowed);
  return { unit: units.has("percent") ? "percent" : "px", values: parts.map((part) => Number(part?.[1])) };
}
