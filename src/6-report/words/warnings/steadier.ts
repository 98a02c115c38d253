import type { Reader } from "../../../core/reader.js";
import type { Report } from "../../report.js";

/** What lets less of a varying dose through: dots that hang together, or a search that allows for it. */
export type Steadier = "clusters" | "robust-aim";

const CLUSTERED: readonly string[] = ["clustered-dot", "green-noise"];

/** Undefined if the halftone is steady already. */
export function steadierOf({ method, search }: Report["job"]): Steadier | undefined {
  if (search) return search.aim === "robust" ? undefined : "robust-aim";
  return CLUSTERED.includes(method) ? undefined : "clusters";
}

export const steadierWords = (steadier: Steadier, { setting }: Reader): string =>
  steadier === "robust-aim"
    ? `a search that allows for a machine that varies (${setting("aim", "robust")})`
    : `dots that hang together (${setting("method", "clustered-dot")} or ${setting("method", "green-noise")})`;
