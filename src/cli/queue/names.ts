import { sha256 } from "../../batch/sha256.js";

/** Start of all our keys on a queue server, which may serve others too. */
export const PREFIX = "spotpitch";

/** Those who run the same release and see the same store share a queue. No other one ever sees their jobs. */
export const queueName = (release: string, storeIdentity: string): string =>
  sha256(`${release}\0${storeIdentity}`).slice(0, 16);

/** Workers that are connected, of all releases, by the time at which they were last heard of. */
export const ROSTER = `${PREFIX}:workers`;

/** There as long as nobody wants the result of a job any more. */
export const cancelledKey = (queue: string, job: string): string => `${PREFIX}:${queue}:cancelled:${job}`;
