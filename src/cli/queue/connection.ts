import { isIP } from "node:net";
import type { Redis } from "ioredis";
import type { QueueAddress } from "./address.js";
import type { QueueLogin } from "./login.js";
import type { QueueEngine } from "./packages.js";
import { refusedQueue } from "./refusals.js";
import { fewerPromisesWords, serverOf, versionFault } from "./server.js";

/** A connection to a queue server. It outlives restarts of the server: commands wait until it answers again. */
export interface Connection {
  readonly redis: Redis;
  readonly address: string;
  readonly close: () => void;
}

const CONNECT_WITHIN_MS = 10_000;
const LONGEST_PAUSE_MS = 2000;

/**
 * Connect, and check that the server can be used. Throws `QUEUE_UNREACHABLE`.
 *
 * @param note tells the user what happens to the connection
 */
export async function connect(
  { Redis }: QueueEngine,
  address: QueueAddress,
  login: QueueLogin,
  note: (words: string) => void,
): Promise<Connection> {
  const redis = new Redis({
    host: address.host,
    port: address.port,
    db: address.db,
    ...optional("username", address.user ?? login.user),
    ...optional("password", login.password),
    ...(address.isEncrypted && { tls: encryption(address, login) }),
    lazyConnect: true,
    connectTimeout: CONNECT_WITHIN_MS,
    maxRetriesPerRequest: null,
    retryStrategy: (times: number) => Math.min(100 * times, LONGEST_PAUSE_MS),
  });
  let fault: unknown;
  // Without somebody who listens, the client prints each error.
  redis.on("error", (error) => {
    fault = error;
  });
  const close = (): void => redis.disconnect();
  try {
    await redis.connect();
    await checkServer(redis, address.text, note);
  } catch (error) {
    close();
    throw error instanceof Error && error.name === "SpotpitchError"
      ? error
      : refusedQueue.unreachable(address.text, fault ?? error);
  }
  tellOfBreaks(redis, address.text, note);
  return { redis, address: address.text, close };
}

/** By a number, a server has no name that it could be asked for. */
const encryption = ({ host }: QueueAddress, { authority }: QueueLogin) => ({
  ...(isIP(host) === 0 && { servername: host }),
  ...optional("ca", authority),
});

async function checkServer(redis: Redis, address: string, note: (words: string) => void): Promise<void> {
  const server = serverOf(await redis.info());
  const wanted = versionFault(server);
  if (wanted !== undefined) throw refusedQueue.tooOld(address, `${server.kind} ${server.version}`, wanted);
  for (const words of fewerPromisesWords(server, address)) note(words);
}

/** One sentence when the server is gone, and one when it is there again. */
function tellOfBreaks(redis: Redis, address: string, note: (words: string) => void): void {
  let isGone = false;
  redis.on("close", () => {
    if (isGone || redis.status === "end") return;
    isGone = true;
    note(`The queue server ${address} does not answer. Work waits and goes on as soon as it is back.`);
  });
  redis.on("ready", () => {
    if (isGone) note(`The queue server ${address} answers again.`);
    isGone = false;
  });
}

/** A property only if it has a value. */
const optional = <Name extends string, Value>(name: Name, value: Value | undefined) =>
  value === undefined ? {} : ({ [name]: value } as { readonly [Each in Name]: Value });
