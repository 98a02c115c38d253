import { expect, it } from "vitest";
import { commandHtml, proseHtml } from "../../../src/6-report/pages/prose-html.js";

const kept = (html: string, name: string): string[] =>
  [...html.matchAll(new RegExp(`<span class="${name}">(.*?)</span>`, "g"))].map(([, text]) => text);

it("keeps each option of a command with its value", () => {
  const html = commandHtml("npx spotpitch prepare a.jpg --kind photo --width 60mm --negative");
  expect(kept(html, "part")).toEqual([
    "npx spotpitch prepare a.jpg",
    "--kind photo",
    "--width 60mm",
    "--negative",
  ]);
  expect(html.replace(/<[^>]*>/g, "")).toBe(
    "npx spotpitch prepare a.jpg --kind photo --width 60mm --negative",
  );
});

it("does not take what stands in quotes for an option", () => {
  const html = commandHtml("npx spotpitch prepare 'my boat --old.jpg' --width 60mm");
  expect(kept(html, "part")).toEqual(["npx spotpitch prepare &#39;my boat --old.jpg&#39;", "--width 60mm"]);
  expect(kept(commandHtml("a 'b'\\''c --d' --e"), "part")).toEqual([
    "a &#39;b&#39;\\&#39;&#39;c --d&#39;",
    "--e",
  ]);
});

it("keeps options in a sentence whole, and shows the rest as it is", () => {
  const html = proseHtml("<b> (--gain, here 25 %), and --density-along 766 -- or well-made --.");
  expect(kept(html, "whole-word")).toEqual(["--gain", "--density-along"]);
  expect(html).toContain("&lt;b&gt;");
});
