import type { Redis } from "ioredis";
import type { QueueSettings } from "../../batch/queue-options.js";
import { parseQueueAddress } from "./address.js";
import { connect } from "./connection.js";
import { readLogin } from "./login.js";
import { queueName } from "./names.js";
import { type OpenStore, openStore } from "./open-store.js";
import { loadQueueEngine, type QueueEngine } from "./packages.js";
import { refusedQueue } from "./refusals.js";
import { ownRelease } from "./release.js";

/** Where a batch and its workers meet. */
export interface Meeting {
  readonly engine: QueueEngine;
  readonly redis: Redis;
  /** The server, for messages. */
  readonly address: string;
  readonly store: OpenStore;
  readonly release: string;
  /** The name of the queue. */
  readonly queue: string;
  readonly close: () => void;
}

/**
 * Connect to the server and open the store, or refuse before any work.
 *
 * @param note tells the user what hinders nothing
 * @throws SpotpitchError `OPTION_INVALID`, `INPUT_*`, `QUEUE_UNREACHABLE`
 */
export async function meet(
  { queue, store: place, login }: Pick<QueueSettings, "queue" | "store" | "login">,
  note: (words: string) => void,
): Promise<Meeting> {
  const address = parseQueueAddress(queue);
  if (place === undefined) throw refusedQueue.noStore();
  const engine = await loadQueueEngine();
  const known = await readLogin(login, process.env, note);
  const store = await openStore(place);
  const release = await ownRelease();
  const { redis, close } = await connect(engine, address, known, note);
  const name = queueName(release, store.identity);
  return { engine, redis, address: address.text, store, release, queue: name, close };
}
