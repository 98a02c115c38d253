import type { UploadEntry } from "../entry.js";

/** Groups of uploads that the desk can show alone, with their words. */
export const GROUPS = [
  ["ready", "Ready"],
  ["note", "With a note"],
  ["ask", "Ask the customer"],
  ["waiting", "Waiting"],
  ["refused", "Refused"],
  ["withdrawn", "Withdrawn"],
] as const;

export type Group = (typeof GROUPS)[number][0];

export const groupOf = ({ state, grade }: Pick<UploadEntry, "state" | "grade">): Group =>
  state === "prepared" ? grade : state;

export const groupWords = (group: Group): string => GROUPS.find(([each]) => each === group)?.[1] ?? "";
