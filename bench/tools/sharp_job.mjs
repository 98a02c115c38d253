/** The comparison job with sharp alone. Arguments: photo, output file, columns, rows, lines per inch. */
import sharp from "sharp";

const [source, target, columns, rows, linesPerInch] = process.argv.slice(2);
await sharp(source)
  .greyscale()
  .resize(Number(columns), Number(rows), { fit: "fill", kernel: "lanczos3" })
  .withMetadata({ density: Number(linesPerInch) })
  .png({ palette: true, colours: 2, dither: 1 })
  .toFile(target);
