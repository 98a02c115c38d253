import * as z from "zod";
import { group } from "../option.js";
import { oneOf } from "../takes.js";
import * as text from "../text-forms.js";

const material = z.union(
  [z.string(), z.record(z.string(), z.unknown())],
  "a preset's name, or what a material file holds",
);

/** What is engraved, and as what kind of picture. */
export const materialOptions = group("Material and halftone", {
  /** A preset's name, or a material file's content. */
  material: {
    flag: "--material <name>",
    text: text.material,
    takes: material.default("maple"),
    help: "preset (see spotpitch materials) or material file, x.json",
    compared: { place: 1, words: "presets' names, or what material files hold" },
  },
  /**
   * A tonal picture, or a logo or lettering: `solid` has no halftone and no tone curve, but puts edges where they are drawn.
   * `auto` takes a picture for `solid` where it is that beyond doubt, and nothing is asked for that only a photo has.
   */
  kind: {
    flag: "--kind <kind>",
    text: text.plainText,
    takes: oneOf(["auto", "photo", "solid"]).default("auto"),
    help: "photo: a tonal picture; solid: a logo or lettering, engraved without dots and as wide as drawn; auto takes plain ink on plain paper for solid, and says so",
    commands: ["prepare", "batch"],
  },
});
