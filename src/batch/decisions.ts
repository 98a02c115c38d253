import * as z from "zod";

/**
 * What somebody decided about a piece. A decision is never changed: a later one counts instead of it, and all stay as history. It
 * belongs to the piece, which is content and options: a piece that is prepared anew must be decided anew.
 */
const decisionSchema = z.object({
  /** The upload's path below the folder given, for people. */
  file: z.string().min(1).max(4096),
  pieceSha256: z.string().regex(/^[0-9a-f]{64}$/),
  /** `open` takes an earlier decision back. */
  verdict: z.enum(["approved", "sent-back", "open"]),
  note: z.string().max(4000),
  /** Who decided; may be empty. */
  by: z.string().max(200),
  at: z.iso.datetime(),
});

export type Decision = z.infer<typeof decisionSchema>;
/** A decision before it has a time. */
export type MadeDecision = Omit<Decision, "at">;

const madeSchema = z.array(z.strictObject(decisionSchema.omit({ at: true }).shape)).min(1);

/** Check what a page sent. Undefined if it is no list of decisions. */
export const parseMadeDecisions = (value: unknown): readonly MadeDecision[] | undefined =>
  madeSchema.safeParse(value).data;

/** The decisions of a file: one, or a list as a page saves it. Undefined if the file holds anything else. */
export function parseDecisions(text: string): readonly Decision[] | undefined {
  try {
    const value: unknown = JSON.parse(text);
    return z.array(decisionSchema).safeParse(Array.isArray(value) ? value : [value]).data;
  } catch {
    return;
  }
}

/** The decision that counts for each piece: the last. Of two of the same moment, the same one on every computer. */
export function latestDecisions(decisions: readonly Decision[]): Map<string, Decision> {
  const latest = new Map<string, Decision>();
  for (const decision of decisions) {
    const before = latest.get(decision.pieceSha256);
    if (!before || isLater(decision, before)) latest.set(decision.pieceSha256, decision);
  }
  return latest;
}

function isLater(a: Decision, b: Decision): boolean {
  const [timeA, timeB] = [Date.parse(a.at), Date.parse(b.at)];
  return timeA === timeB ? JSON.stringify(a) > JSON.stringify(b) : timeA > timeB;
}
