import { execFileSync } from "node:child_process";
import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { crc32, deflateSync, gzipSync } from "node:zlib";

type Content = Uint8Array | string;

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

const svg = (inside: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40">${inside}</svg>`;

/** Uploads that must be refused, by the code they are refused with. A file limit of 25 MB and 50 megapixels is taken for granted. */
export const refusedUploads = (
  good: Buffer,
): Readonly<Record<string, Readonly<Record<string, Content>>>> => ({
  INPUT_TOO_LARGE: {
    "declared.png": png(60000, 60000, Buffer.alloc(10)),
    "wide.svg": svg("").replace('width="40"', 'width="1e5mm"').replace('height="40"', 'height="1e5mm"'),
    "heavy.jpg": Buffer.concat([good, Buffer.alloc(26e6)]),
  },
  INPUT_EMPTY: { "empty.png": "" },
  INPUT_NOT_AN_IMAGE: { "text.jpg": "no picture", "archive.jpg": "PK\x03\x04", "page.svg": "<html></html>" },
  INPUT_DAMAGED: {
    "cut.jpg": good.subarray(0, 2000),
    "uses.svg": svg(
      `<g id="a0"><rect width="4" height="4"/></g>${Array.from({ length: 12 }, (_, i) => `<g id="a${i + 1}">${`<use href="#a${i}"/>`.repeat(10)}</g>`).join("")}`,
    ),
  },
  INPUT_UNSAFE_DRAWING: {
    "script.svg": svg("<script>1</script>"),
    "handler.svg": svg('<rect width="9" height="9" onclick="1"/>'),
    "outside.svg": svg('<image href="file:///etc/hostname" width="9" height="9"/>'),
    "network.svg": svg('<image href="http://127.0.0.1/x.png" width="9" height="9"/>'),
    "laughs.svg": `<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]>${svg("<text>&b;</text>")}`,
    "packed.svg": gzipSync(svg("<script>1</script>")),
    "bomb.svgz": gzipSync(`<svg xmlns="http://www.w3.org/2000/svg">${" ".repeat(50e6)}</svg>`),
  },
});

/** Uploads that look bad, or are called so, and can be prepared all the same. */
export const oddUploads = (good: Buffer): Readonly<Record<string, Content>> => ({
  "good.jpg": good,
  "good.png": good,
  "deep/good.jpg": good,
  "new\nline.jpg": good,
  "\u001b[31m\u0007.jpg": good,
  "\u202egpj.jpg": good,
  "CON.jpg": good,
  "船.jpg": good,
  "ไทย عربي.jpg": good,
  "-rf.jpg": good,
  "..jpg": good,
  "..%2f..%2fup.jpg": good,
  "a\\..\\..\\up.jpg": good,
  [`${"x".repeat(251)}.jpg`]: good,
  "=1+1.jpg": good,
  "<img src=x onerror=alert(1)>.jpg": good,
  "polyglot.jpg": Buffer.concat([good, Buffer.from("PK\x03\x04<script>alert(1)</script>")]),
  "exif.jpg": Buffer.concat([
    good.subarray(0, 2),
    Buffer.from("ffe100104578696600004d4d002affffffff", "hex"),
    good.subarray(2),
  ]),
  // 40 MB of zeros behind 10 × 10 pixels, 30 MB as a colour profile: a decoder that stops at the picture's end does not mind.
  "bomb.png": png(10, 10, Buffer.alloc(40e6)),
  "profile.png": png(
    10,
    10,
    Buffer.alloc(110),
    chunk("iCCP", Buffer.concat([Buffer.from("x\0\0"), deflateSync(Buffer.alloc(30e6))])),
  ),
});

/** Things in a folder that are no files: the codes they are refused with. */
export const notFiles = {
  "link.jpg": "INPUT_LINK",
  "deep/away": "INPUT_LINK",
  "pipe.jpg": "INPUT_NOT_A_FILE",
};

/** Put all of the above into a folder. */
export function putHostileUploads(folder: string, good: Buffer): void {
  mkdirSync(`${folder}/deep`, { recursive: true });
  const all = [oddUploads(good), ...Object.values(refusedUploads(good))];
  for (const [name, content] of all.flatMap((files) => Object.entries(files))) {
    writeFileSync(`${folder}/${name}`, content);
  }
  symlinkSync("/etc/hostname", `${folder}/link.jpg`);
  symlinkSync("/etc", `${folder}/deep/away`);
  execFileSync("mkfifo", [`${folder}/pipe.jpg`]);
}
