import { describe, expect, it } from "vitest";
import { drawingDanger } from "../../src/batch/drawing-dangers.js";

const OPEN = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">';
const drawing = (inside: string, before = ""): string => `${before}${OPEN}${inside}</svg>`;
const isDangerous = (text: string): boolean => drawingDanger(Buffer.from(text)) !== undefined;

/** Each drawing has only one danger, so only one check can find it. */
const dangers = {
  script: "<script/>",
  "script in capitals": "<SCRIPT/>",
  "script of another prefix": "<s:script/>",
  "foreign object": "<foreignObject/>",
  "foreign object of another prefix": "<s:foreignObject/>",
  frame: "<iframe/>",
  "frame in capitals": "<IFRAME/>",
  handler: '<rect onload="x()"/>',
  "handler in capitals": '<rect ONCLICK="x()"/>',
  "handler of a link": '<a onclick="x()"/>',
  "href elsewhere": '<image href="boat.png"/>',
  "xlink:href elsewhere": '<image xlink:href="boat.png"/>',
  "src elsewhere": '<image src="boat.png"/>',
  "href in capitals": '<image HREF="boat.png"/>',
  "part of another file": '<use href="other.svg#a"/>',
  "drawing as data": '<image href="data:image/svg+xml,x"/>',
  "page as data": '<image href="data:text/html,x"/>',
  "drawing as data, behind white space": '<image href=" data: image/svg+xml,x"/>',
  "picture as data of an element that shows none": '<use href="data:image/png;base64,AAAA"/>',
  "href of another prefix": '<image x:href="boat.png"/>',
  base: '<g xml:base="http://quay.example/"/>',
  "base in capitals": '<g XML:BASE="http://quay.example/"/>',
  "base of a link": '<a xml:base="http://quay.example/"/>',
  "url in an attribute": '<rect fill="url(http://quay.example/#a)"/>',
  "url in quotes": `<rect fill='url( "http://quay.example/#a")'/>`,
  "url in capitals": '<rect fill="URL(boat.svg#a)"/>',
  "url of a link": '<a style="fill: url(boat.svg#a)"/>',
  "second url": '<rect style="fill: url(#a); mask: url(boat.svg#a)"/>',
  "url in a style": "<style>rect { fill: url(boat.svg#a) }</style>",
  "url in a style of another prefix": "<s:style>rect { fill: url(boat.svg#a) }</s:style>",
  "import in a style": "<style>@import 'x.css';</style>",
  "import in capitals": "<style>@IMPORT 'x.css';</style>",
  "import in a character section": "<style><![CDATA[@import 'x.css';]]></style>",
  "url in a style, written with an entity": "<style>rect { fill: u&#114;l(boat.svg#a) }</style>",
  "url in a style, behind an entity": "<style>rect { fill: url&#40;boat.svg#a) }</style>",
  "import in a style, written with an entity": "<style>@&#105;mport 'x.css';</style>",
  "url in a style, half a character section": "<style>rect { fill: ur<![CDATA[l(boat.svg#a)]]> }</style>",
  "url in a style, round a comment": "<style>rect { fill: ur<!-- -->l(boat.svg#a) }</style>",
  "import in a style behind an element": "<style><g/>@import 'x.css';</style>",
  "import in a style within a style": "<style><style/>@import 'x.css';</style>",
  "url with a character by its number": "<style>rect { fill: ur\\6c (boat.svg#a) }</style>",
  "url with an escaped character": '<rect fill="\\url(boat.svg#a)"/>',
  "import with a character by its number": "<style>@\\000069mport 'x.css';</style>",
  "import in an attribute": '<rect style="@import"/>',
  "url of data": '<rect fill="url(data:image/png;base64,AAAA)"/>',
  "url with all characters by their numbers": '<rect fill="\\75\\72\\6c(boat.svg#a)"/>',
  "url with an escape that a line break of two characters ends": '<rect fill="\\75\r\nrl(boat.svg#a)"/>',
  "url in quotes with an escaped line break": '<rect fill="ur\\\nl(boat.svg#a)"/>',
  "url with a comment before the address": "<style>rect { fill: url(/* */boat.svg#a) }</style>",
  "url between what only looks like comments": `<style>rect { content: "/*"; fill: url(boat.svg#a); content: "*/" }</style>`,
  "font of its own": "<style>@font-face { font-family: a; src: url(data:font/woff2;base64,AAAA) }</style>",
  "font of its own, escaped": "<style>@\\66ont-face { font-family: a; src: local(a) }</style>",
  "url behind a namespace":
    "<style>@namespace url(http://quay.example/); rect { fill: url(boat.svg#a) }</style>",
} as const;

/** As near as can be to a danger, and harmless. */
const harmless = {
  "element that only begins alike": "<scripted/><iframes/><foreignObjects/>",
  "attribute that only holds the letters": '<rect font-on="1" source="boat.png" base="x"/>',
  "part of the same file": '<use href="#a"/><use xlink:href=" #a"/><image src="#a"/>',
  "picture as data": ["png", "jpeg", "gif", "webp"]
    .map((format) => `<image href="data:image/${format};base64,AAAA"/>`)
    .join(""),
  "link to click": '<a href="https://quay.example"/><a xlink:href="https://quay.example"/>',
  "link of another prefix": '<s:a href="https://quay.example"/>',
  "url of the same file": `<rect fill="url(#a)" stroke="url( '#b')"/>`,
  "picture as data of an unnamed kind": '<image href="data:;base64,AAAA"/><feImage href="data:,x"/>',
  "namespace of a style": "<style>@namespace url(http://www.w3.org/2000/svg); rect { fill: red }</style>",
  "url of the same file, round an escape": '<rect fill="\\75rl(#a)"/>',
  "url of the same file in a style": "<style>rect { fill: url('#a') }</style>",
  "characters by their numbers": "<style>text { font-family: '\\6c\\ffffff' }</style>",
  "words about a url": "<text>url(http://quay.example) @import</text>",
  "words before a style": "<text>@import 'x.css'</text><style>rect { fill: red }</style>",
  "halves of a word in two styles": "<style>ur</style><style>l(boat.svg#a)</style>",
  "words after a style": "<style>rect { fill: red }</style><text>@import 'x.css'</text>",
  "words straight after a style": "<style>rect { fill: red }</style>@import 'x.css'",
} as const;

/** Before the drawing. */
const declarations = {
  "entity from elsewhere": '<!DOCTYPE svg [<!ENTITY a SYSTEM "b">]>',
  "entity with markup": '<!DOCTYPE svg [<!ENTITY a "<b/>">]>',
  "entity with an entity": '<!DOCTYPE svg [<!ENTITY a "&b;">]>',
  "entity in small letters": '<!doctype svg [<!entity a "&b;">]>',
  "entity behind a bracket in quotes": '<!DOCTYPE svg SYSTEM ">" [<!ENTITY a "&b;">]>',
  "parameter behind a bracket in quotes": '<!DOCTYPE svg SYSTEM ">" [%a;]>',
  "plain entity beside another declaration": '<!DOCTYPE svg [<!ENTITY a "b"><!ELEMENT a ANY>]>',
  "entity without a type": '<!ENTITY a "b">',
  "attributes behind a bracket in quotes": '<!DOCTYPE svg SYSTEM ">" [<!ATTLIST rect fill CDATA "red">]>',
  attributes: '<!DOCTYPE svg [<!ATTLIST rect fill CDATA "red">]>',
  "declarations from elsewhere": "<!DOCTYPE svg [%a;]>",
  "declarations without brackets": '<!DOCTYPE svg <!ATTLIST rect fill CDATA "red">>',
  "a bracket that only closes": "<!DOCTYPE svg ]>",
  "entity between what only looks like a comment":
    '<!DOCTYPE svg [<!ENTITY a "<!--"><!ENTITY b "<script/>"><!ENTITY c "-->">]>',
  "entity of a second type, behind one in a comment":
    '<!-- <!DOCTYPE svg [ ]> --><!DOCTYPE svg [<!ENTITY a "&b;">]>',
  "instruction in a type": "<!DOCTYPE svg [<?note ]>?>]>",
  "style sheet": '<?xml-stylesheet href="x.css"?>',
  "style sheet in capitals": '<?XML-STYLESHEET href="x.css"?>',
} as const;

describe("drawingDanger", () => {
  it("finds nothing in an empty drawing", () => expect(isDangerous(drawing(""))).toBe(false));

  it.each(Object.entries(dangers))("finds a danger: %s", (_what, inside) =>
    expect(isDangerous(drawing(inside))).toBe(true),
  );

  it.each(Object.entries(harmless))("finds none: %s", (_what, inside) =>
    expect(isDangerous(drawing(inside))).toBe(false),
  );

  it.each(Object.entries(declarations))("finds a danger before the drawing: %s", (_what, before) =>
    expect(isDangerous(drawing("", before))).toBe(true),
  );

  it.each([
    ["a declaration of XML", '<?xml version="1.0" encoding="UTF-8"?>'],
    ["a plain document type", '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "svg11.dtd">'],
    ["entities of plain text", "<!DOCTYPE svg [<!ENTITY a \"b\"><!-- ] --><!ENTITY c 'd'>]>"],
    [
      "attributes that name namespaces",
      '<!DOCTYPE svg [<!ATTLIST svg xmlns:a CDATA #FIXED "http://quay.example">]>',
    ],
    ["a type with brackets in quotes", '<!DOCTYPE svg PUBLIC "[a]" "<b>">'],
    ["entities behind a comment", '<?xml version="1.0"?><!-- [ --><!DOCTYPE svg [<!ENTITY a "b">]>'],
    ["another instruction", '<?note href="x.css"?>'],
    ["a comment", "<!-- by hand -->"],
  ])("finds none before the drawing: %s", (_what, before) =>
    expect(isDangerous(drawing("", before))).toBe(false),
  );

  it.each([
    ["a reference", '<image href="&a;"/>', "boat.png"],
    ["a url", '<rect fill="&a;"/>', "url(boat.svg#b)"],
    ["a part of a style", "<style>rect { fill: &a;l(boat.svg#b) }</style>", "ur"],
  ])("finds a danger in an entity: %s", (_what, inside, value) => {
    const type = (text: string) => `<!DOCTYPE svg [<!ENTITY a "${text}">]>`;
    expect(isDangerous(drawing(inside, type(value)))).toBe(true);
    expect(isDangerous(drawing(inside, type("#b")))).toBe(false);
  });

  it("takes the first of two entities of one name, as the renderer does (XML 1.0, 4.2)", () => {
    const type = (first: string, second: string) =>
      `<!DOCTYPE svg [<!ENTITY a "${first}"><!ENTITY a "${second}">]>`;
    const use = '<rect fill="&a;"/>';
    expect(isDangerous(drawing(use, type("url(#b)", "url(boat.svg#b)")))).toBe(false);
    expect(isDangerous(drawing(use, type("url(boat.svg#b)", "url(#b)")))).toBe(true);
  });

  it("refuses entities that would multiply the drawing", () => {
    const type = `<!DOCTYPE svg [<!ENTITY a "${"quay ".repeat(200)}">]>`;
    expect(isDangerous(drawing(`<desc>${"&a;".repeat(900)}</desc>`, type))).toBe(false);
    expect(isDangerous(drawing(`<desc>${"&a;".repeat(1100)}</desc>`, type))).toBe(true);
  });

  it.each([
    ["<style>@font-face { src: url(a.woff) }</style>", /web font/, /outlines/],
    ['<rect style="fill: url(data:image/png,x)"/>', /picture in a style/, undefined],
    ['<image href="data:image/svg+xml,x"/>', /another drawing/, undefined],
    ['<image href="boat.png"/>', /another file/, undefined],
  ])("says what %s is", (inside, what, advice) => {
    const danger = drawingDanger(Buffer.from(drawing(inside)));
    expect(danger?.what).toMatch(what);
    expect(danger?.advice ?? "").toMatch(advice ?? /^$/);
  });

  it("names the first of several dangers", () => {
    const [first, second] = ["<script/>", '<rect onload="x()"/>'];
    const both = drawingDanger(Buffer.from(drawing(first + second)));
    expect(both).toEqual(drawingDanger(Buffer.from(drawing(first))));
    expect(both).not.toEqual(drawingDanger(Buffer.from(drawing(second))));
  });
});

describe("every encoding", () => {
  const utf16 = (text: string, mark: boolean): Buffer =>
    Buffer.from(mark ? `\ufeff${text}` : text, "utf16le");
  const encodings: readonly (readonly [string, (text: string) => Uint8Array])[] = [
    ["UTF-8", (text) => Buffer.from(text)],
    ["UTF-8 with a mark", (text) => Buffer.from(`\ufeff${text}`)],
    ["UTF-16, low byte first, with a mark", (text) => utf16(text, true)],
    ["UTF-16, low byte first, without a mark", (text) => utf16(text, false)],
    ["UTF-16, high byte first, with a mark", (text) => utf16(text, true).swap16()],
    ["UTF-16, high byte first, without a mark", (text) => utf16(text, false).swap16()],
  ];

  it.each(encodings)("%s is read: dangers are found, and only they", (_what, encode) => {
    expect(drawingDanger(encode(drawing("<script/>")))).toBeDefined();
    expect(drawingDanger(encode(drawing("", '<!ENTITY a SYSTEM "b">')))).toBeDefined();
    expect(drawingDanger(encode(drawing("<rect/>")))).toBeUndefined();
  });
});

describe("compressed content", () => {
  // RFC 1952, 2.3.1: gzip begins with 31 and 139.
  it.each([
    [[31, 139], true],
    [[31, 138], false],
    [[30, 139], false],
    [[31], false],
    [[], false],
  ] as const)("of the bytes %j: %s", (bytes, compressed) => {
    expect(drawingDanger(Uint8Array.from(bytes)) !== undefined).toBe(compressed);
  });
});
