import { SpotpitchError } from "../../core/errors.js";
import { systemCode } from "../refusals.js";

const inText = (names: readonly string[]): string => names.join(" and ");

/** Every reason for which a queue or its store cannot be used. Passwords never stand in a message. */
export const refusedQueue = {
  packagesMissing: (what: string, names: readonly string[], cause: unknown) =>
    new SpotpitchError(
      "OPTION_INVALID",
      `${what} needs ${inText(names)}, which a plain installation leaves out. Install them beside spotpitch: npm install ${names.join(" ")}.`,
      { option: "queue", cause },
    ),

  notAnAddress: () =>
    new SpotpitchError(
      "OPTION_INVALID",
      "--queue takes the address of a Redis or Valkey server: redis://host:6379, or rediss://host:6379 with TLS. A number after it chooses one of its databases: redis://host:6379/2.",
      { option: "queue" },
    ),

  passwordInAddress: () =>
    new SpotpitchError(
      "OPTION_INVALID",
      "The address after --queue has a password in it. Others can read it in the list of processes and in the history of the shell, so it is not used: change that password. Give the new one in the environment (SPOTPITCH_QUEUE_PASSWORD), or in a file (--queue-login).",
      { option: "queue" },
    ),

  noQueue: () =>
    new SpotpitchError(
      "OPTION_INVALID",
      "A worker needs the queue to take jobs from. Give its address with --queue: redis://host:6379.",
      { option: "queue" },
    ),

  noStore: () =>
    new SpotpitchError(
      "OPTION_INVALID",
      "--queue needs a place where pictures and results lie on their way. Give it with --store, the same for the batch and for its workers: a folder that all computers see, or s3://bucket/folder.",
      { option: "store" },
    ),

  noStoreFolder: (place: string, cause: unknown) =>
    new SpotpitchError(
      "OPTION_INVALID",
      `There is no folder "${place}" for the store (${systemCode(cause)}). Make it, or mount it if it lies on another computer.`,
      { option: "store", received: place, cause },
    ),

  notABucket: (place: string) =>
    new SpotpitchError(
      "OPTION_INVALID",
      `"${place}" names no bucket. Write s3://bucket or s3://bucket/folder.`,
      {
        option: "store",
        received: place,
      },
    ),

  storeFails: (place: string, cause: unknown) =>
    new SpotpitchError(
      "QUEUE_UNREACHABLE",
      `The store "${place}" cannot be used (${reasonOf(cause)}). Check its name, the network and the right to read and write there.`,
      { option: "store", received: place, cause },
    ),

  /** @param address without user and password */
  unreachable: (address: string, cause: unknown) =>
    new SpotpitchError(
      "QUEUE_UNREACHABLE",
      `The queue server ${address} cannot be used (${connectionWords(address, cause)}). Check that it runs, its address, and user and password (SPOTPITCH_QUEUE_USER, SPOTPITCH_QUEUE_PASSWORD, or --queue-login).`,
      { option: "queue", received: address, cause },
    ),

  queueFails: (cause: unknown) =>
    new SpotpitchError(
      "QUEUE_UNREACHABLE",
      `The queue server takes no more jobs (${reasonOf(cause)}). Check its memory and what the user may do there. Finished files stay; run the same command to continue.`,
      { option: "queue", cause },
    ),

  tooOld: (address: string, found: string, wanted: string) =>
    new SpotpitchError(
      "QUEUE_UNREACHABLE",
      `The queue server ${address} is ${found}, which lacks commands that the queue needs. Use ${wanted}.`,
      { option: "queue", received: found, allowed: wanted },
    ),
};

/** What a library says of a failure: its code, and what it adds to it. */
export function reasonOf(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const code = "code" in error && typeof error.code === "string" ? error.code : error.name;
  return error.message === "" || error.message === code ? code : `${code}: ${error.message}`;
}

/** What a batch says of an upload that its workers gave up. Another attempt may succeed, so the verdict is not kept. */
export const gaveUpWords = (upload: string, reason: string): string =>
  `"${upload}" was not prepared: ${reason}. Run the same command again to try once more.`;

/** What the client says, in words of ours where its own tell nothing to who does not know the server. */
function connectionWords(address: string, cause: unknown): string {
  const reason = reasonOf(cause);
  if (/NOAUTH/.test(reason)) return "it wants a password, and none was given";
  if (/ETIMEDOUT/.test(reason) && address.startsWith("rediss:"))
    return "it does not answer an encrypted greeting: perhaps it is one without TLS, for redis://";
  return reason;
}
