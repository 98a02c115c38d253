import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { optionReference } from "../../src/cli/reference.js";
import { spotpitchHere } from "./here.js";

const page = readFileSync(new URL("../../src/cli/README.md", import.meta.url), "utf8");

describe("the reference of the options", () => {
  it("is made from the tables as they are: npm run reference", () => {
    expect(page).toBe(optionReference());
  });

  it.each(["prepare", "plan", "compare", "batch"])("lists what the help of %s lists", async (command) => {
    const { stdout } = await spotpitchHere(command, "--help");
    const inHelp = [...stdout.matchAll(/^ {2}(--[a-z0-9-]+)/gm)].map(([, flag]) => flag);
    expect(inHelp.length).toBeGreaterThan(40);
    const sections = page.split(/^## /m);
    const ownSection = sections.find((section) => section.startsWith(`spotpitch ${command}\n`)) ?? "";
    const asPrepare = command === "batch" ? (sections[1] ?? "") : "";
    const listed = [...(ownSection + asPrepare).matchAll(/^\| `(--[a-z0-9-]+)/gm)].map(([, flag]) => flag);
    expect([...new Set(listed)].sort()).toEqual([...new Set(inHelp)].sort());
  });
});
