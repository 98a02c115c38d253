import { refusedQueue } from "./refusals.js";

/** Where a queue server is. */
export interface QueueAddress {
  readonly host: string;
  readonly port: number;
  /** The number of one of its databases. */
  readonly db: number;
  readonly user: string | undefined;
  readonly isEncrypted: boolean;
  /** For messages. */
  readonly text: string;
}

const DEFAULT_PORT = 6379;

/** Throws `OPTION_INVALID`, without repeating what was given: there may be a secret in it. */
export function parseQueueAddress(given: string): QueueAddress {
  if (!URL.canParse(given)) throw refusedQueue.notAnAddress();
  const { protocol, hostname, port, pathname, username, password, search, hash } = new URL(given);
  if (password !== "") throw refusedQueue.passwordInAddress();
  const database = /^\/?(\d{0,4})$/.exec(pathname)?.[1];
  const isKnown = protocol === "redis:" || protocol === "rediss:";
  if (!isKnown || hostname === "" || database === undefined || search !== "" || hash !== "") {
    throw refusedQueue.notAnAddress();
  }
  const db = Number(database);
  return {
    // Square brackets belong to the address, not to the host.
    host: hostname.replace(/^\[(.*)\]$/, "$1"),
    port: port === "" ? DEFAULT_PORT : Number(port),
    db,
    user: username === "" ? undefined : decodeURIComponent(username),
    isEncrypted: protocol === "rediss:",
    text: `${protocol}//${hostname}:${port || DEFAULT_PORT}${db > 0 ? `/${db}` : ""}`,
  };
}
