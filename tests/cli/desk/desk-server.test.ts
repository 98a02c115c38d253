import { mkdirSync, readdirSync, symlinkSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openDecisions } from "../../../src/cli/desk/decision-files.js";
import { type DeskServer, openDeskServer } from "../../../src/cli/desk/desk-server.js";
import { servedFile } from "../../../src/cli/desk/served-file.js";
import { temporaryFolder } from "../command.js";

const folder = temporaryFolder();
const out = folder.in("engraved");
const pieceSha256 = "0123456789abcdef".repeat(4);
const made = { file: "boat.jpg", pieceSha256, verdict: "approved", note: "", by: "Mara" } as const;

beforeAll(() => {
  mkdirSync(`${out}/boat`, { recursive: true });
  mkdirSync(`${out}/.spotpitch`);
  writeFileSync(`${out}/index.html`, "<p>desk</p>");
  writeFileSync(`${out}/batch.json`, "{}");
  writeFileSync(`${out}/boat/boat größe.burn.png`, "png");
  writeFileSync(`${out}/.spotpitch/hidden.json`, "{}");
  // Each is there, and would be served by a tidier address.
  writeFileSync(`${out}/boat/in.json`, "{}");
  writeFileSync(`${out}/boat\\back.json`, "{}");
  writeFileSync(`${out}/notes.txt`, "text");
  writeFileSync(folder.in("outside.json"), "{}");
  symlinkSync(folder.in("outside.json"), `${out}/link.json`);
  symlinkSync(folder.path, `${out}/up`);
});
afterAll(() => folder.remove());

describe("servedFile", () => {
  it("gives what a batch writes", async () => {
    expect((await servedFile(out, "index.html"))?.type).toBe("text/html; charset=utf-8");
    expect((await servedFile(out, "boat/boat%20gr%C3%B6%C3%9Fe.burn.png"))?.type).toBe("image/png");
  });
  it.each([
    "../outside.json",
    "%2e%2e/outside.json",
    "..%2Foutside.json",
    "boat/..%5C..%5Coutside.json",
    ".spotpitch/hidden.json",
    "link.json",
    "up/outside.json",
    "notes.txt",
    "boat",
    "boat//in.json",
    "boat%2Fin.json",
    "boat%5Cback.json",
    "%",
    "%00.json",
    "missing.json",
    "",
  ])("gives nothing for %s", async (address) => {
    expect(await servedFile(out, address)).toBeUndefined();
  });
});

describe("the desk's server", () => {
  let desk: DeskServer;
  beforeAll(async () => {
    desk = await openDeskServer(out, 0);
  });
  afterAll(() => desk.close());

  interface Said {
    readonly status: number | undefined;
    readonly text: string;
  }
  /** A raw request, because fetch lets no program choose Host and Origin. */
  const ask = (path: string, headers: Record<string, string> = {}, body?: string): Promise<Said> =>
    new Promise((resolve, reject) => {
      const { hostname, port, pathname } = new URL(desk.address);
      const sent = request(
        {
          ...{ hostname, port, path: path.startsWith("/") ? path : pathname + path },
          ...{ method: body === undefined ? "GET" : "POST", headers },
        },
        (response) => {
          let text = "";
          response.on("data", (data) => {
            text += data;
          });
          response.on("end", () => resolve({ status: response.statusCode, text }));
        },
      );
      sent.on("error", reject);
      sent.end(body);
    });
  const json = { "Content-Type": "application/json" };
  const post = (body: string, headers: Record<string, string> = json) => ask("decisions", headers, body);

  it("is on this computer alone, behind a word that nobody guesses", async () => {
    expect(desk.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/[0-9a-f]{32}\/$/);
    expect((await ask("")).text).toBe("<p>desk</p>");
    expect((await ask("/")).status).toBe(404);
    expect((await ask("/index.html")).status).toBe(404);
    expect((await ask(`/${"0".repeat(32)}/index.html`)).status).toBe(404);
  });

  it("refuses requests that name another host or come from another page", async () => {
    const { host, origin } = new URL(desk.address);
    expect((await ask("", { Host: "desk.example:80" })).status).toBe(403);
    expect((await ask("", { Origin: "https://desk.example" })).status).toBe(403);
    expect((await ask("", { Origin: "null" })).status).toBe(403);
    expect((await ask("", { Host: host, Origin: origin })).status).toBe(200);
    const before = openDecisions(out).read().length;
    expect((await post(JSON.stringify([made]), { ...json, Origin: "https://desk.example" })).status).toBe(
      403,
    );
    // What a form can send without asking first.
    expect((await post(JSON.stringify([made]), { "Content-Type": "text/plain" })).status).toBe(415);
    expect(openDecisions(out).read()).toHaveLength(before);
  });

  it("keeps a decision, and tells the others about it", async () => {
    const { next, batch } = JSON.parse((await ask("decisions?after=0")).text);
    const [kept] = JSON.parse((await post(JSON.stringify([{ ...made, note: "ä 'quoted'\n" }]))).text);
    expect(kept).toMatchObject({ ...made, note: "ä 'quoted'\n" });
    expect(JSON.parse((await ask(`decisions?after=${next}`)).text)).toEqual({
      ...{ decisions: [kept], next: next + 1, batch },
    });
    writeFileSync(`${out}/batch.json`, '{"uploads": []}');
    expect(JSON.parse((await ask("decisions?after=0")).text).batch).not.toBe(batch);
  });

  it.each([
    ["no JSON", "{"],
    ["no decision", "[{}]"],
    ["none at all", "[]"],
    ["a piece that is a path", JSON.stringify([made, { ...made, pieceSha256: "../../../etc/passwd" }])],
    ["a time of its own", JSON.stringify([{ ...made, at: "2030-01-01T00:00:00.000Z" }])],
    ["a book", JSON.stringify([{ ...made, note: "x".repeat(100_000) }])],
  ])("refuses %s", async (_what, body) => {
    const before = openDecisions(out).read().length;
    expect((await post(body)).status).toBe(400);
    expect(openDecisions(out).read()).toHaveLength(before);
  });

  it("refuses more than it wants to read, and says so", async () => {
    const { status, text } = await post(
      JSON.stringify(Array(2000).fill({ ...made, note: "x".repeat(4000) })),
    );
    expect(status).toBe(413);
    expect(text).toMatch(/too many/);
  });

  it("does nothing else", async () => {
    expect((await ask("index.html", json, "{}")).status).toBe(405);
  });
});

describe("decisions in a folder", () => {
  it("of two people stay both; the later counts", async () => {
    const shared = folder.in("shared");
    const [mara, jon] = [openDecisions(shared), openDecisions(shared)];
    await Promise.all(
      Array.from({ length: 20 }, (_, i) =>
        (i % 2 ? mara : jon).keep([{ ...made, by: i % 2 ? "Mara" : "Jon", note: String(i) }]),
      ),
    );
    expect(readdirSync(`${shared}/decisions`)).toHaveLength(20);
    const notes = openDecisions(shared)
      .read()
      .map(({ note }) => Number(note));
    expect(notes.sort((a, b) => a - b)).toEqual(Array.from({ length: 20 }, (_, i) => i));
    expect(mara.read()).toHaveLength(20);
    expect(jon.read()).toHaveLength(20);
  });

  it("are known once each, also if somebody looks while they are written", async () => {
    const decisions = openDecisions(folder.in("looking"));
    let isKept = false;
    const keeping = decisions.keep([made]).then(() => {
      isKept = true;
    });
    while (!isKept) {
      decisions.read();
      await new Promise((resolve) => setImmediate(resolve));
    }
    await keeping;
    expect(decisions.read()).toHaveLength(1);
  });

  it("are later than what their maker knew, also where the clocks differ", async () => {
    const shared = folder.in("clocks");
    mkdirSync(`${shared}/decisions`, { recursive: true });
    const ahead = { ...made, at: new Date(Date.now() + 3_600_000).toISOString() };
    writeFileSync(`${shared}/decisions/saved-by-hand.json`, JSON.stringify([ahead]));
    const other = { ...made, file: "gull.jpg", pieceSha256: "f".repeat(64) };
    const kept = await openDecisions(shared).keep([other, { ...made, verdict: "sent-back" }]);
    expect(Date.parse(kept[1].at)).toBeGreaterThan(Date.parse(ahead.at));
    // Other pieces have the time of the clock.
    expect(Date.parse(kept[0].at)).toBeLessThan(Date.parse(ahead.at));
    // What is decided at a time is one file.
    expect(readdirSync(`${shared}/decisions`)).toHaveLength(2);
    expect(openDecisions(shared).read()).toEqual(expect.arrayContaining([ahead, ...kept]));
  });

  it("do not suffer from what else lies there", () => {
    const shared = folder.in("mixed");
    mkdirSync(`${shared}/decisions/folder.json`, { recursive: true });
    writeFileSync(`${shared}/decisions/half.json`, '{"file":');
    writeFileSync(`${shared}/decisions/being-written.json.1234`, "");
    expect(openDecisions(shared).read()).toEqual([]);
    expect(openDecisions(folder.in("none")).read()).toEqual([]);
  });

  it("are read once their file is copied as a whole", () => {
    const shared = folder.in("copied");
    mkdirSync(`${shared}/decisions`, { recursive: true });
    const saved = [{ ...made, at: "2026-05-01T08:00:00.000Z" }];
    const text = JSON.stringify(saved);
    const decisions = openDecisions(shared);
    for (const length of [0, 20, text.length - 1]) {
      writeFileSync(`${shared}/decisions/saved.json`, text.slice(0, length));
      expect(decisions.read()).toEqual([]);
    }
    writeFileSync(`${shared}/decisions/saved.json`, text);
    expect(decisions.read()).toEqual(saved);
    expect(decisions.read()).toEqual(saved);
  });
});
