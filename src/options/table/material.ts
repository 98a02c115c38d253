import * as z from "zod";
import type { MaterialData } from "../../core/material/material.js";
import { group } from "../group.js";
import { material, word } from "../kinds.js";
import { oneOf } from "../takes.js";

/** What is in it is checked where it is read. */
const materialFile = z.custom<MaterialData | Readonly<Record<string, unknown>>>(
  (value) => typeof value === "object" && value !== null && !Array.isArray(value),
);

const presetOrFile = z.union([z.string(), materialFile], "a preset's name, or what a material file holds");

/** The material and the kind of picture. */
export const materialOptions = group("Material and halftone", {
  /** A preset's name, or a material file's content. */
  material: material(
    "--material <name>",
    presetOrFile.default("maple"),
    "preset (see spotpitch materials) or material file, x.json",
    { compared: { place: 1 } },
  ),
  /**
   * A tonal picture, or a logo or lettering: `solid` has no halftone and no tone curve, but places edges where they are drawn.
   * `auto` chooses `solid` only if the picture certainly is a logo or lettering and no option for photos is given.
   */
  kind: word(
    "--kind <kind>",
    oneOf(["auto", "photo", "solid"]).default("auto"),
    "photo: a tonal picture; solid: a logo or lettering, engraved without dots and as wide as drawn; auto takes plain ink on plain paper for solid, and says so",
    { commands: ["prepare", "batch"] },
  ),
});
