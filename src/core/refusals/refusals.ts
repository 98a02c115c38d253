import { type ErrorDetails, SpotpitchError } from "../errors.js";
import { libraryReader, type Reader } from "../reader.js";
import type { DataOf } from "../told.js";
import { boardRefusals } from "./board.js";
import { cardRefusals } from "./card.js";
import { cardPictureRefusals } from "./card-picture.js";
import type { RefusalEntry } from "./entry.js";
import { internalRefusals } from "./internal.js";
import { machineRefusals } from "./machine.js";
import { materialRefusals } from "./material.js";
import { methodRefusals } from "./method.js";
import { optionRefusals } from "./options.js";
import { photoRefusals } from "./photo.js";
import { pieceRefusals } from "./piece.js";

/** All refusals of the library, by id. */
export const refusals = {
  ...optionRefusals,
  ...materialRefusals,
  ...machineRefusals,
  ...methodRefusals,
  ...photoRefusals,
  ...pieceRefusals,
  ...boardRefusals,
  ...cardRefusals,
  ...cardPictureRefusals,
  ...internalRefusals,
};

export type RefusalId = keyof typeof refusals;
export type RefusalData<Id extends RefusalId> = DataOf<(typeof refusals)[Id]["words"]>;

/**
 * The error for a catalogue entry, with its message in the words of the library.
 *
 * @param data a field `option`, if the entry has one, is the option at fault
 */
export function refusal<Id extends RefusalId>(
  id: Id,
  data: RefusalData<Id>,
  details: Omit<ErrorDetails, "option" | "refusal"> = {},
): SpotpitchError {
  const entry: RefusalEntry<object> = refusals[id];
  const facts = data as object;
  const option = "option" in facts ? String(facts.option) : entry.option;
  return new SpotpitchError(entry.code, entry.words(facts, libraryReader), {
    ...details,
    ...(option !== undefined && { option }),
    refusal: { id, data: facts },
  });
}

/** The words of an error for another reader. An error outside the catalogue keeps its message. */
export function sayRefusal({ message, refusal: told }: SpotpitchError, reader: Reader): string {
  if (told === undefined || !Object.hasOwn(refusals, told.id)) return message;
  const entry: RefusalEntry<object> = refusals[told.id as RefusalId];
  return entry.words(told.data, reader);
}

/** The same error with additional data that only the caller knows, such as a file name. */
export function refusedWith(error: SpotpitchError, more: object): SpotpitchError {
  const { code, option, received, allowed, refusal: told } = error;
  if (told === undefined) return error;
  const details = {
    received,
    cause: error,
    ...(option !== undefined && { option }),
    ...(allowed !== undefined && { allowed }),
    refusal: { id: told.id, data: { ...told.data, ...more } },
  };
  const again = new SpotpitchError(code, error.message, details);
  return new SpotpitchError(code, sayRefusal(again, libraryReader), details);
}
