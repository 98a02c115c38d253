import type { BatchOptions } from "../../batch/batch-options.js";
import { queuedTable, queueTable } from "../../batch/queue-options.js";
import { listWords } from "../../core/words.js";
import { commandReader } from "../command-reader.js";

/** Options that were given and have no effect, because no queue was. */
export function idleQueueWords(given: BatchOptions): string[] {
  if (given.queue !== undefined) return [];
  const idle = Object.keys({ ...queueTable, ...queuedTable }).filter((name) => Object.hasOwn(given, name));
  if (idle.length === 0) return [];
  const flags = idle.map((name) => commandReader.option(name));
  const [have, they] = flags.length === 1 ? ["has", "it is"] : ["have", "they are"];
  return [
    `${listWords(flags, "and")} ${have} no effect: ${they} for a batch over a queue. Give the queue with --queue.`,
  ];
}
