import { SpotpitchError } from "../../core/errors.js";
import { loadObjectStoreClient } from "./packages.js";
import { refusedQueue } from "./refusals.js";
import { checkedName, type Store } from "./store.js";

/**
 * A folder of a bucket, on any server that answers to the four verbs of S3: HEAD, GET, PUT, DELETE. Region, user and password come from
 * where the official client looks for them: the environment (`AWS_…`) or its own files. Throws `OPTION_INVALID`.
 */
export async function openS3Store(place: string, env: NodeJS.ProcessEnv = process.env): Promise<Store> {
  const { bucket, folder } = parseS3Place(place);
  const { S3Client, HeadObjectCommand, GetObjectCommand, PutObjectCommand, DeleteObjectCommand } =
    await loadObjectStoreClient();
  // Servers of one's own rarely have a host name for each bucket.
  const isOwnServer = (env.AWS_ENDPOINT_URL_S3 ?? env.AWS_ENDPOINT_URL) !== undefined;
  const client = new S3Client({ forcePathStyle: isOwnServer });
  const at = (name: string) => ({ Bucket: bucket, Key: folder + checkedName(name) });
  return {
    place,
    has: async (name) => (await found(client.send(new HeadObjectCommand(at(name))))) !== undefined,
    async get(name, maxBytes) {
      const answer = await found(client.send(new GetObjectCommand(at(name))));
      if (answer?.Body === undefined) return undefined;
      if ((answer.ContentLength ?? Number.POSITIVE_INFINITY) > maxBytes) {
        throw new SpotpitchError(
          "INPUT_TOO_LARGE",
          `"${name}" in the store is larger than ${maxBytes} bytes.`,
        );
      }
      return answer.Body.transformToByteArray();
    },
    put: async (name, bytes) => void (await client.send(new PutObjectCommand({ ...at(name), Body: bytes }))),
    remove: async (name) => void (await client.send(new DeleteObjectCommand(at(name)))),
  };
}

/** `s3://bucket/folder`. The folder ends with a slash, or is empty. */
export function parseS3Place(place: string): { readonly bucket: string; readonly folder: string } {
  const [, bucket, folder] = /^s3:\/\/([a-z0-9][a-z0-9.-]{1,61}[a-z0-9])(?:\/(.*))?$/.exec(place) ?? [];
  if (bucket === undefined) throw refusedQueue.notABucket(place);
  const parts = (folder ?? "").split("/").filter((part) => part !== "");
  return { bucket, folder: parts.map((part) => `${part}/`).join("") };
}

/** What a request finds; undefined if there is nothing. */
async function found<Answer>(request: Promise<Answer>): Promise<Answer | undefined> {
  try {
    return await request;
  } catch (error) {
    if (error instanceof Error && ["NotFound", "NoSuchKey"].includes(error.name)) return undefined;
    throw error;
  }
}
