import { randomBytes, timingSafeEqual } from "node:crypto";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { parseMadeDecisions } from "../../batch/decisions.js";
import { fileSignature } from "../batch/file-signature.js";
import { type DecisionFiles, openDecisions } from "./decision-files.js";
import { servedFile } from "./served-file.js";

/** Bytes of decisions about some 30,000 pieces. */
const MAX_BODY_BYTES = 8e6;

/** The desk keeps no visitor's data, runs in no frame, and tells nobody its address, which is its key. */
const HEADERS = {
  "Cache-Control": "no-store",
  "Referrer-Policy": "no-referrer",
  "X-Content-Type-Options": "nosniff",
  "X-Frame-Options": "DENY",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Cross-Origin-Opener-Policy": "same-origin",
};

export interface DeskServer {
  /** With the random word that only who started the desk knows. */
  readonly address: string;
  readonly close: () => Promise<void>;
}

/**
 * Serve the page of an output folder on this computer alone, and keep what is decided on it in the folder.
 *
 * A page of a stranger in the same browser can send requests here. It does not know the random word; and whatever it knows, requests
 * that name another host (a name that was made to lead here) or come from another origin are refused.
 *
 * @param port 0 for any that is free
 */
export async function openDeskServer(out: string, port: number): Promise<DeskServer> {
  const secret = randomBytes(16).toString("hex");
  const decisions = openDecisions(out);
  const server = createServer((request, response) => {
    answer({ out, secret, decisions, host: hostOf(server) }, request)
      .catch((): Answer => failed(500, "The folder cannot be read or written."))
      .then((said) => send(response, said));
  });
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, "127.0.0.1", resolve);
  });
  return {
    address: `http://${hostOf(server)}/${secret}/`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

const hostOf = (server: Server): string => `127.0.0.1:${(server.address() as AddressInfo | null)?.port}`;

interface Desk {
  readonly out: string;
  readonly secret: string;
  readonly decisions: DecisionFiles;
  /** Name and port, as the browser must name them. */
  readonly host: string;
}

interface Answer {
  readonly status: number;
  readonly type: string;
  readonly body: Uint8Array | string;
}

const json = (status: number, value: object): Answer => ({
  status,
  type: "application/json; charset=utf-8",
  body: JSON.stringify(value),
});
const failed = (status: number, error: string): Answer => json(status, { error });

async function answer(desk: Desk, request: IncomingMessage): Promise<Answer> {
  const { method, headers, url = "" } = request;
  if (headers.host !== desk.host) return failed(403, "This desk is not called that.");
  if (headers.origin !== undefined && headers.origin !== `http://${desk.host}`)
    return failed(403, "Another page may not use this desk.");
  // Browsers ask for it by themselves.
  if (url === "/favicon.ico") return { status: 204, type: "image/png", body: "" };
  const [, secret, ...rest] = url.split("?")[0].split("/");
  if (!isSame(secret, desk.secret)) return failed(404, "There is nothing here.");
  const address = rest.join("/");
  if (address === "decisions") {
    if (method === "GET")
      return knownAfter(desk, Number(new URL(url, "http://desk").searchParams.get("after")));
    if (method === "POST") return decide(desk, request);
  }
  if (method !== "GET" && method !== "HEAD") return failed(405, "The desk does not do that.");
  const file = await servedFile(desk.out, address === "" ? "index.html" : address);
  return file ? { status: 200, type: file.type, body: file.bytes } : failed(404, "There is nothing here.");
}

function isSame(given: string | undefined, secret: string): boolean {
  return given?.length === secret.length && timingSafeEqual(Buffer.from(given), Buffer.from(secret));
}

/** Decisions that the page does not know yet, and whether the batch is still the one that it shows. */
async function knownAfter({ out, decisions }: Desk, after: number): Promise<Answer> {
  const all = decisions.read();
  const batch = await fileSignature(join(out, "batch.json"));
  return json(200, { decisions: all.slice(Math.max(after, 0)), next: all.length, batch });
}

async function decide({ decisions }: Desk, request: IncomingMessage): Promise<Answer> {
  // A form of another page cannot send this type without asking first.
  if (request.headers["content-type"] !== "application/json") return failed(415, "Decisions are JSON.");
  const text = await bodyOf(request);
  if (text === undefined) return failed(413, "These are too many at once. Select fewer.");
  const made = parseMadeDecisions(parsed(text));
  if (!made) return failed(400, "That is no decision; its note may be too long.");
  return json(200, await decisions.keep(made));
}

/** Undefined if it is too long. It is then read to its end all the same, because a browser takes no answer before. */
async function bodyOf(request: IncomingMessage): Promise<string | undefined> {
  const parts: Buffer[] = [];
  let bytes = 0;
  for await (const part of request) {
    bytes += part.length;
    if (bytes <= MAX_BODY_BYTES) parts.push(part);
  }
  return bytes > MAX_BODY_BYTES ? undefined : Buffer.concat(parts).toString("utf8");
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return;
  }
}

function send(response: ServerResponse, { status, type, body }: Answer): void {
  response.writeHead(status, { ...HEADERS, "Content-Type": type });
  response.end(body);
}
