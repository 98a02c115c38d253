import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import jsqr from "jsqr";
import { PNG } from "pngjs";
import sharp, { type Sharp } from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import { prepareZXingModule, readBarcodes } from "zxing-wasm/reader";
import { codeModules } from "../../src/7-card/card-code.js";
import { denseData } from "../../src/core/plane.js";
import { testCard } from "../../src/index.js";
import { predict } from "../../src/stages/predict.js";

const require = createRequire(import.meta.url);

/** What two decoders read that have nothing to do with the encoder or with each other: jsQR and ZXing's C++ library. */
async function decoded(picture: Sharp): Promise<readonly (string | undefined)[]> {
  const { data, info } = await picture.ensureAlpha().raw().toBuffer({ resolveWithObject: true });
  const pixels = new Uint8ClampedArray(data);
  const { width, height } = info;
  const [found] = await readBarcodes(
    { data: pixels, width, height, colorSpace: "srgb" },
    { formats: ["QRCode"] },
  );
  return [jsqr.default(pixels, width, height)?.data, found?.text];
}

beforeAll(() =>
  prepareZXingModule({
    overrides: {
      wasmBinary: Uint8Array.from(readFileSync(require.resolve("zxing-wasm/reader/zxing_reader.wasm")))
        .buffer,
    },
    fireImmediately: true,
  }),
);

describe("the modules", () => {
  it("are those of a code that both decoders read, alone and in the smallest size that holds the text", async () => {
    const text = "SPOTPITCH1 W80 H60 D1016 L2 S1 V300";
    const { side, modules } = codeModules(text);
    // ISO/IEC 18004, table 7: version 2 (25 modules) at level M holds 38 alphanumeric characters, version 1 (21) 20.
    expect([side, modules.length]).toEqual([25, 625]);
    const grey = Uint8Array.from(modules, (module) => 255 * (1 - module));
    const picture = sharp(grey, { raw: { width: side, height: side, channels: 1 } })
      .extend({ top: 4, bottom: 4, left: 4, right: 4, background: "white" })
      .resize({ width: 33 * 5, kernel: "nearest" })
      .toColourspace("srgb");
    expect(await decoded(picture)).toEqual([text, text]);
  });

  it("grow with the text", () => {
    expect(codeModules("SPOTPITCH1 W50.8 H60.25 D1016.1234 A362.8571 L16 S9999 V1234.567 O").side).toBe(33);
  });
});

/** Dark on light, and light on dark with little contrast. */
describe.each(["maple", "slate"])("on the preview of a card on %s", (material) => {
  let preview: Uint8Array;
  let code: string;
  beforeAll(async () => {
    const small = { sizeMm: { widthMm: 40, heightMm: 30 }, linesPerInch: 508, spotMm: 0.1 };
    const made = await testCard({ material, ...small, speedMmPerS: 250 });
    // With full contrast, as every reader of pictures begins, and at 15 pixels to the mm, so that decoders are quick.
    preview = await sharp(made.previewFile).normalise().resize({ width: 670 }).png().toBuffer();
    code = made.recipe.code;
  });
  const opened = () => sharp(preview);

  it.each<readonly [string, () => Sharp]>([
    ["as it is", opened],
    ["inverted", () => opened().negate({ alpha: false })],
    ["turned by 17°", () => opened().rotate(17, { background: "#808080" })],
    ["upside down", () => opened().rotate(180)],
    ["from behind", () => opened().flop()],
    ["blurred by a tenth of a mm", () => opened().blur(1.5)],
    ["at seven pixels to the mm", () => opened().resize({ width: 310 })],
  ])("is read by both decoders: %s", async (_, picture) => {
    expect(await decoded(picture())).toEqual([code, code]);
  });
});

describe("on a card that a wide spot has engraved in the model", () => {
  it.each(["maple", "slate"])("is read by both decoders at ten pixels to the mm: %s", async (material) => {
    const spotMm = 0.25;
    const { burnFile, recipe } = await testCard({
      ...{ material, spotMm, linesPerInch: 350, sizeMm: { widthMm: 40, heightMm: 30 } },
    });
    const { width, height, data } = PNG.sync.read(Buffer.from(burnFile));
    const bits = Uint8Array.from({ length: width * height }, (_, i) => (data[4 * i] === 0 ? 1 : 0));
    const pitchMm = { alongMm: recipe.pitchAlongMm, acrossMm: recipe.pitchAcrossMm };
    const engraved = predict({ data: bits, width, height }, { material, spotMm, pitchMm });
    // As a camera of gamma 2 sees it.
    const grey = Uint8Array.from(denseData(engraved), (luminance) => Math.round(255 * Math.sqrt(luminance)));
    const picture = sharp(grey, { raw: { width, height, channels: 1 } })
      .resize({ width: 400 })
      .normalise()
      .toColourspace("srgb");
    expect(await decoded(picture)).toEqual([recipe.code, recipe.code]);
  });
});
