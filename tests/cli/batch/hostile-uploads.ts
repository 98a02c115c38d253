import { execFileSync } from "node:child_process";
import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { crc32, deflateSync, gzipSync } from "node:zlib";
import sharp from "sharp";
import { photographPath } from "../../pipeline/photograph.js";

/** The expected result of an upload: a refusal with this code, the piece, or either if it depends on the decoder. */
export type Wanted = `INPUT_${string}` | "prepared" | "either";

/** Limits that the uploads here are made for, as flags. */
export const HOSTILE_LIMITS = ["--max-file-size", "2", "--max-megapixels", "50", "--max-seconds", "60"];

function chunk(type: string, data: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from(type), data]);
  const head = Buffer.alloc(4);
  head.writeUInt32BE(data.length);
  const tail = Buffer.alloc(4);
  tail.writeUInt32BE(crc32(body));
  return Buffer.concat([head, body, tail]);
}

/** A PNG that declares one size and holds the given bytes, deflated. */
function png(columns: number, rows: number, pixels: Uint8Array, ...extra: Buffer[]): Buffer {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(columns);
  header.writeUInt32BE(rows, 4);
  header[8] = 8;
  const signature = Buffer.from("\x89PNG\r\n\x1a\n", "latin1");
  const data = chunk("IDAT", deflateSync(pixels));
  return Buffer.concat([signature, chunk("IHDR", header), ...extra, data, chunk("IEND", Buffer.alloc(0))]);
}

const svg = (inside: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40">${inside}</svg>`;

/** Fill a folder with what a stranger might send. Returns what must come of each, by its path below the folder. */
export async function makeHostileUploads(folder: string): Promise<Map<string, Wanted>> {
  const wanted = new Map<string, Wanted>();
  mkdirSync(join(folder, "deep"), { recursive: true });
  const put = (name: string, bytes: Uint8Array | string, comes: Wanted): void => {
    writeFileSync(join(folder, name), bytes);
    wanted.set(name, comes);
  };
  const good = await sharp(photographPath("black-canyon")).resize(260).jpeg().toBuffer();
  const names = [
    ...["good.jpg", "good.png", "deep/good.jpg", "new\nline.jpg", "CON.jpg", "船.jpg", "-rf.jpg", "..jpg"],
    ...["\u202egpj.boat.jpg", "<img src=x onerror=alert(1)>.jpg", "'\"&amp;.jpg", "=1+1.jpg"],
    ...[
      "\u001b[31m\u0007.jpg",
      "a\\..\\..\\up.jpg",
      "..%2f..%2fup.jpg",
      "ไทย عربي.jpg",
      `${"x".repeat(251)}.jpg`,
    ],
  ];
  for (const name of names) put(name, good, "prepared");
  put("polyglot.jpg", Buffer.concat([good, Buffer.from("PK\x03\x04<script>alert(1)</script>")]), "prepared");
  const exif = Buffer.from("ffe100104578696600004d4d002affffffff", "hex");
  put("exif.jpg", Buffer.concat([good.subarray(0, 2), exif, good.subarray(2)]), "prepared");
  put("declared.png", png(60000, 60000, Buffer.alloc(10)), "INPUT_TOO_LARGE");
  // 40 MB of zeros after 10 × 10 pixels. A decoder that stops at the picture's end is not affected.
  put("bomb.png", png(10, 10, Buffer.alloc(40e6)), "either");
  const profile = Buffer.concat([Buffer.from("x\0\0"), deflateSync(Buffer.alloc(30e6))]);
  put("profile.png", png(10, 10, Buffer.alloc(110), chunk("iCCP", profile)), "either");
  put("empty.png", "", "INPUT_EMPTY");
  put("text.jpg", "no picture", "INPUT_NOT_AN_IMAGE");
  put("cut.jpg", good.subarray(0, 2000), "INPUT_DAMAGED");
  const middle = good.length >> 1;
  const noise = Buffer.from(Array.from({ length: 600 }, (_, i) => (73 * i) & 0x7f));
  put(
    "overwritten.jpg",
    Buffer.concat([good.subarray(0, middle), noise, good.subarray(middle + noise.length)]),
    "prepared",
  );
  put("script.svg", svg("<script>1</script>"), "INPUT_UNSAFE_DRAWING");
  put(
    "outside.svg",
    svg('<image href="file:///etc/hostname" width="9" height="9"/>'),
    "INPUT_UNSAFE_DRAWING",
  );
  put("handler.svg", svg('<rect width="9" height="9" onclick="1"/>'), "INPUT_UNSAFE_DRAWING");
  // Renderers unpack compressed content: here a script, and 50 MB of spaces.
  put("packed.svg", gzipSync(svg("<script>1</script>")), "INPUT_UNSAFE_DRAWING");
  put("bomb.svgz", gzipSync(svg(" ".repeat(50e6))), "INPUT_UNSAFE_DRAWING");
  // 10 to the power of 12 squares.
  const uses = Array.from(
    { length: 12 },
    (_, i) => `<g id="a${i + 1}">${`<use href="#a${i}"/>`.repeat(10)}</g>`,
  );
  put("uses.svg", svg(`<g id="a0"><rect width="4" height="4"/></g>${uses.join("")}`), "INPUT_DAMAGED");
  const laughs = '<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]>';
  put("laughs.svg", `${laughs}${svg("<text>&b;</text>")}`, "INPUT_UNSAFE_DRAWING");
  // Comments that a regular expression could divide in 2 to the power of 40 ways.
  put("comments.svg", `<!DOCTYPE svg [${"<!---->".repeat(40)}${svg("")}`, "INPUT_DAMAGED");
  put("namespaces.svg", svg(`<style>${"@namespace ".repeat(40_000)}</style>`), "either");
  put("huge.svg", svg("").replace('"40"', '"4e9"'), "either");
  put("heavy.jpg", Buffer.concat([good, Buffer.alloc(3e6)]), "INPUT_TOO_LARGE");
  symlinkSync("/etc/hostname", join(folder, "link.jpg"));
  wanted.set("link.jpg", "INPUT_LINK");
  symlinkSync("/etc", join(folder, "deep/away"));
  wanted.set("deep/away", "INPUT_LINK");
  execFileSync("mkfifo", [join(folder, "pipe.jpg")]);
  wanted.set("pipe.jpg", "INPUT_NOT_A_FILE");
  return wanted;
}
