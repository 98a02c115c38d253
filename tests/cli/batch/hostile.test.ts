import { execFileSync } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { crc32, deflateSync } from "node:zlib";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { UploadEntry } from "../../../src/index.js";
import { photographPath } from "../../pipeline/photograph.js";
import { temporaryFolder } from "../command.js";
import { type Ended, runBatch } from "./uploads.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());
const uploads = folder.in("uploads");
const out = folder.in("out");

function chunk(type: string, data: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from(type), data]);
  const head = Buffer.alloc(4);
  head.writeUInt32BE(data.length);
  const tail = Buffer.alloc(4);
  tail.writeUInt32BE(crc32(body));
  return Buffer.concat([head, body, tail]);
}

/** A PNG that declares one size and holds the deflated bytes given. */
function png(columns: number, rows: number, pixels: Uint8Array, ...extra: Buffer[]): Buffer {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(columns);
  header.writeUInt32BE(rows, 4);
  header[8] = 8;
  const signature = Buffer.from("\x89PNG\r\n\x1a\n", "latin1");
  const data = chunk("IDAT", deflateSync(pixels));
  return Buffer.concat([signature, chunk("IHDR", header), ...extra, data, chunk("IEND", Buffer.alloc(0))]);
}

let ended: Ended;
let entries: Map<string, UploadEntry>;

beforeAll(async () => {
  mkdirSync(`${uploads}/deep`, { recursive: true });
  const put = (name: string, bytes: Uint8Array | string) => writeFileSync(`${uploads}/${name}`, bytes);
  const good = await sharp(photographPath("black-canyon")).resize(260).jpeg().toBuffer();
  const svg = (inside: string) =>
    `<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40">${inside}</svg>`;
  for (const name of [
    "good.jpg",
    "good.png",
    "deep/good.jpg",
    "new\nline.jpg",
    "CON.jpg",
    "船.jpg",
    "-rf.jpg",
    "..jpg",
  ]) {
    put(name, good);
  }
  put(`${"x".repeat(251)}.jpg`, good);
  put("=1+1.jpg", good);
  put("polyglot.jpg", Buffer.concat([good, Buffer.from("PK\x03\x04<script>alert(1)</script>")]));
  put(
    "exif.jpg",
    Buffer.concat([
      good.subarray(0, 2),
      Buffer.from("ffe100104578696600004d4d002affffffff", "hex"),
      good.subarray(2),
    ]),
  );
  put("declared.png", png(60000, 60000, Buffer.alloc(10)));
  // 40 MB of zeros behind 10 × 10 pixels: a decoder that stops at the picture's end does not mind.
  put("bomb.png", png(10, 10, Buffer.alloc(40e6)));
  put(
    "profile.png",
    png(
      10,
      10,
      Buffer.alloc(110),
      chunk("iCCP", Buffer.concat([Buffer.from("x\0\0"), deflateSync(Buffer.alloc(30e6))])),
    ),
  );
  put("empty.png", "");
  put("text.jpg", "no picture");
  put("cut.jpg", good.subarray(0, 2000));
  put("script.svg", svg("<script>1</script>"));
  put("outside.svg", svg('<image href="file:///etc/hostname" width="9" height="9"/>'));
  put("laughs.svg", `<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]>${svg("<text>&b;</text>")}`);
  put("huge.svg", svg("").replace('"40"', '"4e9"'));
  put("heavy.jpg", Buffer.concat([good, Buffer.alloc(3e6)]));
  symlinkSync("/etc/hostname", `${uploads}/link.jpg`);
  symlinkSync("/etc", `${uploads}/deep/away`);
  execFileSync("mkfifo", [`${uploads}/pipe.jpg`]);
  const limits = ["--max-file-size", "2", "--max-megapixels", "50", "--max-seconds", "60"];
  const quick = ["--width", "8mm", "--method", "floyd-steinberg"];
  ended = await runBatch([uploads, "--recursive", ...quick, ...limits, "--out", out]);
  const { uploads: list } = JSON.parse(readFileSync(`${out}/batch.json`, "utf8")) as {
    uploads: UploadEntry[];
  };
  entries = new Map(list.map((entry) => [entry.file, entry]));
});

describe("hostile uploads", () => {
  it("end with status 4 and no word of an inner failure", () => {
    expect([ended.status, ended.stderr]).toEqual([4, ""]);
  });

  it.each([
    ["declared.png", "INPUT_TOO_LARGE"],
    ["empty.png", "INPUT_EMPTY"],
    ["text.jpg", "INPUT_NOT_AN_IMAGE"],
    ["cut.jpg", "INPUT_DAMAGED"],
    ["script.svg", "INPUT_UNSAFE_DRAWING"],
    ["outside.svg", "INPUT_UNSAFE_DRAWING"],
    ["laughs.svg", "INPUT_UNSAFE_DRAWING"],
    ["heavy.jpg", "INPUT_TOO_LARGE"],
    ["link.jpg", "INPUT_LINK"],
    ["deep/away", "INPUT_LINK"],
    ["pipe.jpg", "INPUT_NOT_A_FILE"],
  ])("refuses %s as %s", (file, code) => {
    expect(entries.get(file)).toMatchObject({ state: "refused", grade: "ask", code, outputs: [] });
    expect(entries.get(file)?.message.length).toBeGreaterThan(10);
  });

  it.each([
    "good.jpg",
    "good.png",
    "deep/good.jpg",
    "new\nline.jpg",
    "CON.jpg",
    "船.jpg",
    "-rf.jpg",
    "..jpg",
    "=1+1.jpg",
    "polyglot.jpg",
    "exif.jpg",
    `${"x".repeat(251)}.jpg`,
  ])("prepares %j all the same", (file) =>
    expect(entries.get(file)).toMatchObject({ state: "prepared", outputs: { length: 4 } }),
  );

  it("ends for bombs behind a small picture in the picture or in a refusal, as the decoder sees fit", () => {
    for (const file of ["bomb.png", "profile.png", "huge.svg"]) {
      const { state, code } = entries.get(file) ?? {};
      if (state !== "prepared") expect(code).toMatch(/^INPUT_/);
      console.log(file, state, code);
    }
  });

  it("give every upload one verdict, and every file that is named is there and nobody else's", () => {
    const found = readdirSync(uploads, { recursive: true, encoding: "utf8" }).filter(
      (name) => name !== "deep" && !name.startsWith("deep/away/"),
    );
    expect([...entries.keys()].sort()).toEqual(found.sort());
    const outputs = [...entries.values()].flatMap((entry) => entry.outputs);
    expect(new Set(outputs.map((path) => path.toLowerCase())).size).toBe(outputs.length);
    for (const path of outputs) expect(readFileSync(`${out}/${path}`).length).toBeGreaterThan(0);
  });

  it("write nothing beside the output folder, and keep formulas out of the table", () => {
    expect(readdirSync(folder.path).sort()).toEqual(["out", "uploads"]);
    expect(readFileSync(`${out}/batch.csv`, "utf8")).toMatch(/^"?'=1\+1\.jpg/m);
  });
});
