import { stat } from "node:fs/promises";
import { dirname, resolve } from "node:path";
import * as z from "zod";
import { readInputFile } from "../input-files.js";
import { refused } from "../refusals.js";

/** Who connects to a queue server, and the certificate that the server must show. */
export interface QueueLogin {
  readonly user?: string | undefined;
  readonly password?: string | undefined;
  /** PEM of the authority that signed the server's certificate; absent for those that the system knows. */
  readonly authority?: string | undefined;
}

const loginSchema = z.strictObject({
  user: z.string().optional(),
  password: z.string().optional(),
  ca: z.string().optional(),
});

const FAULT = 'it must hold one JSON object with "user", "password" or "ca", each a text';

/**
 * From a file if one is given, else from the environment.
 *
 * @param note tells the user what is wrong, but hinders nothing
 */
export async function readLogin(
  file: string | undefined,
  env: NodeJS.ProcessEnv,
  note: (words: string) => void,
): Promise<QueueLogin> {
  if (file === undefined) return { user: env.SPOTPITCH_QUEUE_USER, password: env.SPOTPITCH_QUEUE_PASSWORD };
  const parsed = loginSchema.safeParse(asJson(await readInputFile(file, "login file")));
  if (!parsed.success) throw refused.unusable("login file", file, FAULT);
  if (await isReadByOthers(file)) {
    note(
      `Other users of this computer can read the password in "${file}". Take their right to: chmod 600 "${file}".`,
    );
  }
  const { user, password, ca } = parsed.data;
  const authority = ca === undefined ? undefined : await readInputFile(resolve(dirname(file), ca), "file");
  return { user, password, authority: authority && new TextDecoder().decode(authority) };
}

/** Undefined if it is none. A parser's own words would quote the password. */
function asJson(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    return;
  }
}

const OTHERS = 0o077;

async function isReadByOthers(file: string): Promise<boolean> {
  // Windows has no such bits.
  return process.platform !== "win32" && ((await stat(file)).mode & OTHERS) !== 0;
}
