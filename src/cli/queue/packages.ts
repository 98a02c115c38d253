import { refusedQueue } from "./refusals.js";

/** The queue's engine and its client. A plain installation has neither. */
export async function loadQueueEngine() {
  try {
    const [{ Queue, Worker }, { Redis }] = await Promise.all([import("bullmq"), import("ioredis")]);
    return { Queue, Worker, Redis };
  } catch (cause) {
    throw refusedQueue.packagesMissing("--queue", ["bullmq", "ioredis"], cause);
  }
}

export type QueueEngine = Awaited<ReturnType<typeof loadQueueEngine>>;

/** The client of object stores. */
export async function loadObjectStoreClient() {
  try {
    return await import("@aws-sdk/client-s3");
  } catch (cause) {
    throw refusedQueue.packagesMissing("--store s3://…", ["@aws-sdk/client-s3"], cause);
  }
}
