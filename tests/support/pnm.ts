/** A 16-bit PGM file. */
export function pgmOf(levels: Uint16Array, columns: number, rows: number): Buffer {
  const data = Buffer.alloc(2 * levels.length);
  levels.forEach((level, i) => {
    data.writeUInt16BE(level, 2 * i);
  });
  return Buffer.concat([Buffer.from(`P5\n${columns} ${rows}\n65535\n`), data]);
}

/** A float PFM file: little-endian, bottom line first. */
export function pfmOf(values: Float32Array, columns: number, rows: number): Buffer {
  const data = Buffer.alloc(4 * values.length);
  values.forEach((value, i) => {
    const line = rows - 1 - Math.floor(i / columns);
    data.writeFloatLE(value, 4 * (line * columns + (i % columns)));
  });
  return Buffer.concat([Buffer.from(`Pf\n${columns} ${rows}\n-1\n`), data]);
}

/** The samples of an 8-bit PGM file, a PAM file of one byte a pixel, or a PBM file (P4), 1 = black there. */
export function samplesOf(file: Buffer): Uint8Array {
  const text = file.toString("latin1");
  const pam = /^P7\n(?:.*\n)*?ENDHDR\n/.exec(text);
  if (pam) return file.subarray(pam[0].length);
  const header = /^P([45])\s+(?:#.*\n)*(\d+)\s+(\d+)\s(?:255\s)?/.exec(text);
  if (!header) throw new Error("neither PBM, PGM nor PAM");
  const body = file.subarray(header[0].length);
  if (header[1] === "5") return body;
  const columns = Number(header[2]);
  const stride = Math.ceil(columns / 8);
  return Uint8Array.from({ length: columns * Number(header[3]) }, (_, i) => {
    const x = i % columns;
    return (body[Math.floor(i / columns) * stride + (x >> 3)] >> (7 - (x & 7))) & 1;
  });
}
