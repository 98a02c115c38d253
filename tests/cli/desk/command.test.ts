import { spawn } from "node:child_process";
import { mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { afterAll, expect, it } from "vitest";
import { deskCommand } from "../../../src/cli/desk/command.js";
import { builtCommand } from "../batch/uploads.js";
import { temporaryFolder } from "../command.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

it("serves a batch until Ctrl-C, and keeps what is decided in its folder", async () => {
  const out = folder.in("engraved");
  mkdirSync(out);
  writeFileSync(`${out}/batch.json`, "{}");
  writeFileSync(`${out}/index.html`, "<p>desk</p>");
  const child = spawn(process.execPath, [builtCommand, "desk", out, "--json"], {
    stdio: ["ignore", "pipe", "pipe"],
  });
  const ended = new Promise((resolve) => child.once("exit", resolve));
  const said = await new Promise<string>((resolve) =>
    child.stdout.once("data", (data) => resolve(`${data}`)),
  );
  const { address } = JSON.parse(said);
  expect(await (await fetch(address)).text()).toBe("<p>desk</p>");
  const decision = { file: "boat.jpg", pieceSha256: "0".repeat(64), verdict: "approved", note: "", by: "" };
  const kept = await fetch(`${address}decisions`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify([decision]),
  });
  expect(kept.status).toBe(200);
  expect(readdirSync(`${out}/decisions`)).toHaveLength(1);
  child.kill("SIGINT");
  expect(await ended).toBe(0);
});

it("refuses a folder without a batch, and a port that is none", async () => {
  const ask = (port?: string) => deskCommand({ folder: folder.path, port, json: false });
  await expect(ask()).rejects.toMatchObject({ code: "INPUT_MISSING" });
  mkdirSync(folder.in("done"));
  writeFileSync(folder.in("done", "batch.json"), "{}");
  await expect(
    deskCommand({ folder: folder.in("done"), port: undefined, json: false }),
  ).rejects.toMatchObject({
    code: "INPUT_MISSING",
  });
  writeFileSync(folder.in("done", "index.html"), "<p>desk</p>");
  for (const port of ["0", "65536", "http", "80.5"])
    await expect(deskCommand({ folder: folder.in("done"), port, json: false })).rejects.toMatchObject({
      code: "OPTION_INVALID",
    });
});
