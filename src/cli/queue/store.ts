import { SpotpitchError } from "../../core/errors.js";

/**
 * Where pictures and results lie on their way between a batch and its workers. A name stands for one content: nothing is changed once
 * it is there, and writing it twice is the same as once.
 */
export interface Store {
  /** The place as the user gave it. */
  readonly place: string;
  readonly has: (name: string) => Promise<boolean>;
  /** Undefined if there is no such content. Throws `INPUT_TOO_LARGE` for more than `maxBytes`. */
  readonly get: (name: string, maxBytes: number) => Promise<Uint8Array | undefined>;
  /** Whole or not at all. */
  readonly put: (name: string, bytes: Uint8Array) => Promise<void>;
  readonly remove: (name: string) => Promise<void>;
}

/** An upload, by the hash of its content. */
export const inputName = (contentSha256: string): string => `inputs/${contentSha256}`;

/** A file that a job has made, by the hash of its content. */
export const madeName = (key: string, contentSha256: string): string => `results/${key}/${contentSha256}`;

/** What a job has come to. It is written last, so that whoever finds it finds all its files. */
export const resultName = (key: string): string => `results/${key}/result.json`;

/** Tells a store from any other one. */
export const IDENTITY = "identity";

const NAME = /^(identity|inputs\/[0-9a-f]{64}|results\/[0-9a-f]{64}\/([0-9a-f]{64}|result\.json))$/;

/** The last gate before a path or an object's key is made of a name. */
export function checkedName(name: string): string {
  if (NAME.test(name)) return name;
  throw new SpotpitchError("INTERNAL", "A name leads out of the store.", { received: name });
}
