import { describe, expect, it } from "vitest";
import { contactSheet } from "../../src/batch/contact-sheet.js";
import { refusedEntry } from "../../src/batch/entry.js";

describe("contactSheet", () => {
  const name = `<img src=x onerror=alert(1)>"'&\n\u202egpj.jpg`;
  const page = contactSheet([{ entry: refusedEntry(name, "INPUT_DAMAGED", `"${name}" is damaged.`) }]);

  it("shows hostile names as text, control characters as marks", () => {
    expect(page).toContain("&lt;img src=x onerror=alert(1)&gt;&quot;&#39;&amp;��gpj.jpg");
    expect(page).not.toMatch(/<img|\u202e/);
  });
  it("runs nothing and loads nothing", () => {
    expect(page).not.toMatch(/<script|<link|https?:|@import|url\(/i);
    expect(page).toContain("default-src 'none'");
  });
});
