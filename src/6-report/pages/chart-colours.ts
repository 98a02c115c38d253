/** Colours that differ in lightness as well, so that they stay apart in print and for colour-blind eyes. */
export const chartColours = {
  accent: "#0b5563",
  second: "#b4541a",
  third: "#7a4fa3",
  soft: "#8a959c",
  ink: "#1d2327",
} as const;

/** The same as the page calls them, which has others for the dark; the chart library knows no variables. */
const PAGE_COLOURS: Readonly<Record<string, string>> = {
  [chartColours.accent]: "var(--accent)",
  [chartColours.second]: "var(--second)",
  [chartColours.third]: "var(--third)",
  [chartColours.soft]: "var(--faint)",
  [chartColours.ink]: "var(--ink)",
  "#e4e8ea": "var(--grid)",
  "#fff": "var(--paper)",
};

/** Colours of a drawing by the names that the page gives them. */
export const inPageColours = (svg: string): string =>
  svg.replace(/"(#[0-9a-f]{3,6})"/g, (whole, colour: string) =>
    colour in PAGE_COLOURS ? `"${PAGE_COLOURS[colour]}"` : whole,
  );
