import { setTimeout as pause } from "node:timers/promises";
import { SpotpitchError } from "../../core/errors.js";
import { refusedQueue } from "./refusals.js";
import type { Store } from "./store.js";

/** Before the second, the third and the fourth try. */
const PAUSES_MS = [200, 800, 3200] as const;

/** A store that tries again what may pass: a break of the network, a server that starts anew. Throws `QUEUE_UNREACHABLE` after that. */
export function lasting(store: Store, pausesMs: readonly number[] = PAUSES_MS): Store {
  const again = async <Value>(work: () => Promise<Value>): Promise<Value> => {
    for (let tries = 0; ; tries++) {
      try {
        return await work();
      } catch (error) {
        if (error instanceof SpotpitchError) throw error;
        if (tries === pausesMs.length) throw refusedQueue.storeFails(store.place, error);
        await pause(pausesMs[tries]);
      }
    }
  };
  return {
    place: store.place,
    has: (name) => again(() => store.has(name)),
    get: (name, maxBytes) => again(() => store.get(name, maxBytes)),
    put: (name, bytes) => again(() => store.put(name, bytes)),
    remove: (name) => again(() => store.remove(name)),
  };
}
