import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto, inspectPhoto } from "../../src/1-photo/decode.js";
import { codesOf, refusalOf } from "./expectations.js";

const svg = (inside: string, before = "", names = ""): Buffer =>
  Buffer.from(
    `${before}<svg xmlns="http://www.w3.org/2000/svg" ${names} width="10" height="10">${inside}</svg>`,
  );
const address = (bytes: Uint8Array, kind: string): string =>
  `data:image/${kind};base64,${Buffer.from(bytes).toString("base64")}`;
const image = (href: string): string =>
  `<image width="10" height="10" preserveAspectRatio="none" href="${href}"/>`;
const noise = (side: number) =>
  sharp({
    create: {
      width: side,
      height: side,
      channels: 3,
      background: "#000",
      noise: { type: "gaussian", mean: 90, sigma: 30 },
    },
  });
const png = await noise(16).png().toBuffer();
const jpeg = await noise(64).jpeg().toBuffer();
const webp = await noise(16).webp().toBuffer();
const gif = await noise(16).gif().toBuffer();
const tiff = await noise(16).tiff().toBuffer();
const small = { minColumns: 10 };

describe("a picture in a drawing", () => {
  it.each([
    ["a PNG", image(address(png, "png"))],
    ["a JPEG", image(address(jpeg, "jpeg"))],
    ["a PNG of no named kind", image(address(png, "png").replace("image/png", ""))],
    [
      "a PNG with its bytes written out",
      image(`data:image/png,${png.toString("hex").replace(/../g, "%$&")}`),
    ],
    [
      "a PNG in a filter",
      `<filter id="f"><feImage href="${address(png, "png")}"/></filter><rect width="10" height="10" filter="url(#f)"/>`,
    ],
    [
      "a drawing",
      image(`data:image/svg+xml,${encodeURIComponent(svg('<rect width="10" height="10"/>').toString())}`),
    ],
  ])("is shown: %s", async (_what, inside) => {
    const white = '<rect width="10" height="10" fill="#fff"/>';
    expect(Math.min(...codesOf(await decodePhoto(svg(white + inside), small)))).toBeLessThan(60_000);
  });

  it("of more than 10 MB of text is shown", async () => {
    // The parser's own limit for one attribute is 10 million characters.
    const large = await noise(1700).png({ compressionLevel: 0 }).toBuffer();
    expect(address(large, "png").length).toBeGreaterThan(10_000_000);
    const photo = await decodePhoto(svg(image(address(large, "png"))), small);
    expect(Math.max(...codesOf(photo))).toBeLessThan(60_000);
  });

  it.each([
    ["a WebP", webp, "webp", "INPUT_UNSAFE_DRAWING", /a WebP picture/],
    ["a GIF", gif, "gif", "INPUT_UNSAFE_DRAWING", /a GIF picture/],
    ["a TIFF", tiff, "tiff", "INPUT_UNSAFE_DRAWING", /a TIFF picture/],
    ["a PNG that says it is a JPEG", png, "jpeg", "INPUT_UNSAFE_DRAWING", /a PNG picture/],
    [
      "half a PNG",
      png.subarray(0, png.length / 2),
      "png",
      "INPUT_DAMAGED",
      /contains a picture that is damaged/,
    ],
    [
      "half a JPEG",
      jpeg.subarray(0, jpeg.length / 2),
      "jpeg",
      "INPUT_DAMAGED",
      /contains a picture that is damaged/,
    ],
    ["no picture", Buffer.from("quay"), "png", "INPUT_DAMAGED", /contains a picture that is damaged/],
  ] as const)("would vanish, so the drawing is refused: %s", async (_what, bytes, kind, code, message) => {
    const refusal = await refusalOf(svg(image(address(bytes, kind))), small);
    expect(refusal).toMatchObject({ code, message: expect.stringMatching(message) });
  });

  it("of more pixels than are allowed is refused like any picture", async () => {
    const drawing = svg(image(address(png, "png")));
    await expect(inspectPhoto(drawing, { maxPixels: 200 })).rejects.toMatchObject({
      code: "INPUT_TOO_LARGE",
      message: expect.stringMatching(/^A picture in the drawing declares 16 × 16 pixels/),
    });
    expect(await inspectPhoto(drawing, { maxPixels: 256 })).toMatchObject({ format: "svg" });
  });
});

describe("the text of a drawing", () => {
  const letters = async (inside: string): Promise<boolean | undefined> =>
    (await decodePhoto(svg(`<rect width="5" height="5"/>${inside}`), small)).hasText;

  it.each([
    ["text", '<text y="9">Quay</text>'],
    ["a part of a text", "<text><tspan>7</tspan></text>"],
    ["text along a line", '<text><textPath href="#a">7</textPath></text>'],
    ["text of another prefix", '<s:text xmlns:s="http://www.w3.org/2000/svg">7</s:text>'],
    ["text as a character section", "<text><![CDATA[7]]></text>"],
    ["flowed text", "<flowRoot><flowPara>Quay</flowPara></flowRoot>"],
  ])("is found: %s", async (_what, inside) => expect(await letters(inside)).toBe(true));

  it.each([
    ["none", ""],
    ["white space", "<text> \n <tspan> </tspan></text>"],
    ["a title", "<title>Quay</title><desc>Quay</desc>"],
    ["a title in an empty text", "<text><title>Quay</title></text>"],
    ["words between shapes", "Quay"],
    ["words behind a text", "<text/>Quay"],
  ])("is not seen in %s", async (_what, inside) => expect(await letters(inside)).toBeUndefined());

  it("is read with the names of its namespaces, as drawing programs write them", async () => {
    const type =
      '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "svg11.dtd" [<!ENTITY ns_svg "http://www.w3.org/2000/svg"><!ENTITY st0 "fill:#404040;">]>';
    const drawing = `${type}<svg xmlns="&ns_svg;" width="10" height="10"><rect width="10" height="10" style="&st0;"/></svg>`;
    expect(codesOf(await decodePhoto(Buffer.from(drawing), small))[55]).toBe(0x40 * 257);
  });
});
