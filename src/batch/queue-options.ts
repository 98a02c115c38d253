import * as z from "zod";
import { fieldsOf, group } from "../options/group.js";
import { number, toggle, word } from "../options/kinds.js";
import { between, whole } from "../options/takes.js";

const ADDRESS =
  "address of a Redis or Valkey server, redis://host:6379, or rediss:// with TLS; never with the password in it";

/** The queue and the store, for those who put jobs there and for those who take them. */
export const queueTable = group("Queue", {
  queue: word(
    "--queue <url>",
    z.string("the address of a server").optional(),
    `where the jobs are: ${ADDRESS}`,
  ),
  store: word(
    "--store <place>",
    z.string("a folder, or s3://bucket/folder").optional(),
    "where pictures and results lie on their way: a folder that all these computers see, or s3://bucket/folder",
  ),
  queueLogin: word(
    "--queue-login <file>",
    z.string("a file's name").optional(),
    'user, password and certificate of the server in a JSON file: {"user": "shop", "password": "…", "ca": "server.pem"}',
    { otherwise: "SPOTPITCH_QUEUE_USER and SPOTPITCH_QUEUE_PASSWORD of the environment" },
  ),
});

/** How a batch uses a queue. */
export const queuedTable = group("Queue", {
  queue: word(
    queueTable.queue.flag,
    queueTable.queue.takes,
    `share the work with every computer that runs "spotpitch worker": ${ADDRESS}`,
    { otherwise: "this computer alone" },
  ),
  ahead: number(
    "--ahead <n>",
    whole(1, 10_000).default(64),
    "uploads in the queue at the same time; the others wait here until one is done",
  ),
  rush: toggle(
    "--rush",
    false,
    "a rush order: its uploads go before those of all other batches in the queue",
  ),
});

/** How a worker takes jobs. */
export const takingTable = group("Queue", {
  lostAfterS: number(
    "--lost-after <seconds>",
    between(1, 3600).default(30),
    "take over the job of a worker that has not been heard of for so long",
  ),
});

const queueSchema = z.object(fieldsOf({ ...queueTable, ...queuedTable }));

/** Where jobs and files go; undefined for a batch that stays on this computer. */
export interface QueueSettings {
  readonly queue: string;
  readonly store: string | undefined;
  readonly login: string | undefined;
  readonly ahead: number;
  readonly rush: boolean;
}

export function queueSettings(options: z.output<typeof queueSchema>): QueueSettings | undefined {
  const { queue, store, queueLogin, ahead, rush } = options;
  return queue === undefined ? undefined : { queue, store, login: queueLogin, ahead, rush };
}
