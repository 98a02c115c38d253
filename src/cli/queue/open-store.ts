import { randomUUID } from "node:crypto";
import { setTimeout as pause } from "node:timers/promises";
import { SpotpitchError } from "../../core/errors.js";
import { openFolderStore } from "./folder-store.js";
import { lasting } from "./lasting-store.js";
import { refusedQueue } from "./refusals.js";
import { openS3Store } from "./s3-store.js";
import { IDENTITY, type Store } from "./store.js";

/** A store, and what tells it from any other: a batch and a worker that see different stores must not meet in a queue. */
export interface OpenStore extends Store {
  readonly identity: string;
}

/** @throws SpotpitchError `OPTION_INVALID`, `QUEUE_UNREACHABLE` */
export async function openStore(place: string): Promise<OpenStore> {
  const store = await (/^s3:/i.test(place) ? openS3Store(place) : openFolderStore(place));
  try {
    return { ...lasting(store), identity: await identityOf(store) };
  } catch (error) {
    throw error instanceof SpotpitchError ? error : refusedQueue.storeFails(place, error);
  }
}

const IDENTITY_BYTES = 100;
const SETTLED_AFTER_MS = 500;

/** Whoever comes first names the store. If several come at once, the last name counts, for all of them. */
async function identityOf(store: Store): Promise<string> {
  const known = await store.get(IDENTITY, IDENTITY_BYTES);
  if (!known) {
    await store.put(IDENTITY, new TextEncoder().encode(randomUUID()));
    await pause(SETTLED_AFTER_MS);
  }
  return new TextDecoder().decode(known ?? (await store.get(IDENTITY, IDENTITY_BYTES)));
}
