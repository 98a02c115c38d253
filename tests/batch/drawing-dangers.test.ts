import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { drawingDanger } from "../../src/batch/drawing-dangers.js";

const svg = (inside: string, before = ""): Uint8Array =>
  Buffer.from(
    `${before}<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="9" height="9">${inside}</svg>`,
  );

describe("drawingDanger", () => {
  it.each([
    ["a script", "<script>fetch('x')</script>"],
    ["a script of another prefix", '<s:script xmlns:s="http://www.w3.org/2000/svg">1</s:script>'],
    ["a handler", '<rect onload="x()"/>'],
    ["a picture elsewhere", '<image href="file:///etc/passwd"/>'],
    ["a picture beside it", '<image xlink:href="other.png"/>'],
    ["a hidden address", '<image href="&#104;ttp://quay.example/x.png"/>'],
    ["a use elsewhere", '<use href="other.svg#a"/>'],
    ["a drawing in a data address", '<image href="data:image/svg+xml;base64,AAAA"/>'],
    ["a fill elsewhere", '<rect fill="url(http://quay.example/#a)"/>'],
    ["a style elsewhere", "<style>@import 'x.css';</style>"],
    ["foreign content", "<foreignObject><p>1</p></foreignObject>"],
  ])("finds %s", (_what, inside) => expect(drawingDanger(svg(inside))).toBeDefined());

  it.each([
    ["entities of entities", '<!DOCTYPE svg [<!ENTITY a "b"><!ENTITY c "&a;&a;">]>'],
    ["entities from elsewhere", '<!DOCTYPE svg [<!ENTITY % a SYSTEM "http://quay.example/a">%a;]>'],
    ["a style sheet", '<?xml-stylesheet href="x.css"?>'],
  ])("finds %s before the drawing", (_what, before) =>
    expect(drawingDanger(svg("<rect/>", before))).toBeDefined(),
  );

  it("finds a script in UTF-16", () => {
    const text = svg("<script>1</script>");
    expect(drawingDanger(Buffer.from(`\ufeff${Buffer.from(text)}`, "utf16le"))).toBeDefined();
  });

  it.each([
    ["shapes", '<rect id="a" fill="url(#g)"/><use href="#a"/>'],
    ["an embedded picture", '<image href="data:image/png;base64,AAAA"/>'],
    ["a link to click", '<a href="https://quay.example"><rect/></a>'],
    ["a style", "<style>rect { fill: url('#g') }</style>"],
  ])("lets %s pass", (_what, inside) => expect(drawingDanger(svg(inside))).toBeUndefined());

  it("lets the sample logo and a plain document type pass", () => {
    const logo = readFileSync(new URL("../../sample-images/logo.svg", import.meta.url));
    expect(drawingDanger(logo)).toBeUndefined();
    const type =
      '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">';
    expect(drawingDanger(svg("<rect/>", type))).toBeUndefined();
  });
});
