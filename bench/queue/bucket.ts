import { mkdirSync } from "node:fs";
import S3rver from "s3rver";
import { freePort } from "../../tests/support/redis-server.js";

/** A bucket on this computer. The workers and the batch find it by the environment that they inherit. */
export async function openBucket(
  folder: string,
): Promise<{ readonly place: string; close(): Promise<void> }> {
  mkdirSync(folder);
  const port = await freePort();
  const server = new S3rver({
    ...{ port, address: "127.0.0.1", silent: true, directory: folder },
    configureBuckets: [{ name: "shop", configs: [] }],
  });
  await server.run();
  Object.assign(process.env, {
    AWS_ENDPOINT_URL_S3: `http://127.0.0.1:${port}`,
    AWS_REGION: "eu-west-1",
    AWS_ACCESS_KEY_ID: "S3RVER",
    AWS_SECRET_ACCESS_KEY: "S3RVER",
  });
  return { place: "s3://shop", close: () => server.close() };
}
