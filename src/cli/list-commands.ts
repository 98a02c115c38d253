/** `spotpitch methods`: what there is, one line each, with its source. */
export async function methodsCommand(json: boolean): Promise<void> {
  const { halftoneMethods } = await import("../index.js");
  if (json) {
    const list = halftoneMethods.map(({ id, title, family, source, keepsMean, note }) => ({
      id,
      title,
      family,
      source,
      keepsMean,
      ...(note === undefined ? {} : { note }),
    }));
    process.stdout.write(`${JSON.stringify(list, null, 2)}\n`);
    return;
  }
  const width = Math.max(...halftoneMethods.map(({ id }) => id.length));
  for (const { id, title, family, source, note } of halftoneMethods) {
    process.stdout.write(
      `${id.padEnd(width)}  ${title} (${family}). ${note === undefined ? "" : `${note} `}${source}\n`,
    );
  }
}

/** `spotpitch materials`: the presets, one line each, with the source of their figures. */
export async function materialsCommand(json: boolean): Promise<void> {
  const { materialPresets } = await import("../core/material-presets.js");
  if (json) {
    process.stdout.write(`${JSON.stringify(materialPresets, null, 2)}\n`);
    return;
  }
  const width = Math.max(...materialPresets.map(({ id }) => id.length));
  for (const { id, name, shape, response, source } of materialPresets) {
    const marks = response[response.length - 1][1] < response[0][1] ? "darker" : "lighter";
    process.stdout.write(`${id.padEnd(width)}  ${name}: ${shape}, marks ${marks}. ${source}\n`);
  }
}
