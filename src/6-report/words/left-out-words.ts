import type { SpotpitchError } from "../../core/errors.js";
import type { RefusalId } from "../../core/refusals/refusals.js";
import type { Comparison } from "../comparison.js";

/** What methods that do not suit a piece are made for; by the refusal that names one of them. */
const MADE_FOR: Partial<Record<RefusalId, string>> = {
  "method-flat-only": "made for flat pieces",
  "method-spot-too-wide": "made for spots that cover fewer pixels",
  "method-grid": "made for lines further apart than the pixels along them",
  "method-levels": "made for dots that are on or off",
};

/** Why a method that nobody named was left out. */
export const leftOutReason = ({ refusal, message }: SpotpitchError): string =>
  MADE_FOR[refusal?.id as RefusalId] ?? message;

/** `stucki, burkes (made for flat pieces); fan (made for …)`; undefined if no method was left out. */
export function leftOutWords({ leftOut }: Pick<Comparison, "leftOut">): string | undefined {
  if (leftOut.length === 0) return undefined;
  const methods = new Map<string, string[]>();
  for (const { method, reason } of leftOut) methods.set(reason, [...(methods.get(reason) ?? []), method]);
  return [...methods].map(([reason, names]) => `${names.join(", ")} (${reason})`).join("; ");
}
