/** Letters that come apart into no plain letter and a mark. */
const APART: Readonly<Record<string, string>> = {
  ß: "ss",
  æ: "ae",
  œ: "oe",
  ø: "o",
  đ: "d",
  ł: "l",
  ı: "i",
  "&": "+",
};
const DRAWN = /[a-z0-9 .,:;\-−+×*/%()_=µ]/;

/**
 * A name in the few letters that pictures are lettered with: without accents, and a low line for each letter of another alphabet, so
 * that names differ at least in length. The number beside it is the same in the list of places, which has the name as it is.
 */
export const drawableName = (name: string): string =>
  [...name.toLowerCase().normalize("NFKD").replace(/\p{M}/gu, "")]
    .map((sign) => APART[sign] ?? (DRAWN.test(sign) ? sign : "_"))
    .join("");
