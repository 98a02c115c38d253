import { shortMaterialSource, shortMethodSource } from "./short-source.js";
import { print } from "./terminal.js";

const MATERIALS_NOTE = `
gradual: tone follows the dose, as wood browns; steep: nearly on or off, as a coating.
illustrative: nobody measured it on your machine. To measure your own: spotpitch card
For all figures and full citations: spotpitch materials --json
`;

/** `spotpitch methods`: the halftone methods, one line each, with the source. */
export async function methodsCommand(json: boolean): Promise<void> {
  const { autoCandidates, namedMethods } = await import("../pipeline/lists.js");
  if (json) {
    const list = namedMethods.map(({ id, title, family, source, keepsMean, takesLevels, note }) => ({
      id,
      title,
      family,
      source,
      keepsMean,
      takesLevels,
      ...(note === undefined ? {} : { note }),
    }));
    print(`${JSON.stringify(list, null, 2)}\n`);
    return;
  }
  writeTable(namedMethods.map(({ id, family, source }) => [id, family, shortMethodSource(source)]));
  const onOff = namedMethods.filter(({ takesLevels }) => !takesLevels).map(({ id }) => id);
  print(`
auto, the default, tries ${autoCandidates.slice(0, -1).join(", ")} and ${autoCandidates.at(-1)}.
All but ${onOff.join(", ")} take --levels.
For full citations and notes: spotpitch methods --json
`);
}

/** `spotpitch materials`: the presets, one line each, with the source of their figures. */
export async function materialsCommand(json: boolean): Promise<void> {
  const { materialPresets } = await import("../pipeline/lists.js");
  if (json) {
    print(`${JSON.stringify(materialPresets, null, 2)}\n`);
    return;
  }
  writeTable(
    materialPresets.map(({ id, shape, response, source }) => {
      const marks = response[response.length - 1][1] < response[0][1] ? "darkens" : "lightens";
      return [id, shape, marks, shortMaterialSource(source)];
    }),
  );
  print(MATERIALS_NOTE);
}

function writeTable(rows: readonly (readonly string[])[]): void {
  const widths = rows[0].map((_, column) => Math.max(...rows.map((row) => row[column].length)));
  for (const row of rows) {
    print(
      `${row
        .map((cell, column) => cell.padEnd(widths[column]))
        .join("  ")
        .trimEnd()}\n`,
    );
  }
}
