import { existsSync } from "node:fs";
import { join, resolve } from "node:path";
import { refused } from "../refusals.js";
import { print, tell } from "../terminal.js";
import { openDeskServer } from "./desk-server.js";

export interface DeskRequest {
  readonly folder: string;
  readonly port: string | undefined;
  readonly json: boolean;
}

/** `spotpitch desk`: serve the page of a batch on this computer, and keep what is decided on it, until Ctrl-C. */
export async function deskCommand({ folder, port, json }: DeskRequest): Promise<void> {
  const out = resolve(folder);
  if (!["batch.json", "index.html"].every((name) => existsSync(join(out, name))))
    throw refused.noBatch(folder);
  const desk = await openDeskServer(out, portOf(port)).catch((cause) => {
    throw refused.portTaken(port ?? "0", cause);
  });
  print(
    json ? `${JSON.stringify({ address: desk.address, folder: out })}\n` : `open          ${desk.address}\n`,
  );
  tell(
    "Decisions are kept in the folder decisions beside the page. The address holds a secret: who has it can decide too. Ctrl-C ends the desk.\n",
  );
  await new Promise<void>((end) => process.once("SIGINT", end).once("SIGTERM", end));
  await desk.close();
}

function portOf(given: string | undefined): number {
  if (given === undefined) return 0;
  const port = Number(given);
  if (!Number.isInteger(port) || port < 1 || port > 65535) throw refused.badPort(given);
  return port;
}
