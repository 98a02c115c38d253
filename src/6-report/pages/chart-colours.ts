/** Colours that also differ in lightness, for print and for colour-blind readers. */
export const chartColours = {
  accent: "#0b5563",
  second: "#b4541a",
  third: "#7a4fa3",
  soft: "#8a959c",
  ink: "#1d2327",
} as const;

/** Their names in the page, which has other colours for dark mode. The chart library has no variables. */
const PAGE_COLOURS: Readonly<Record<string, string>> = {
  [chartColours.accent]: "var(--accent)",
  [chartColours.second]: "var(--second)",
  [chartColours.third]: "var(--third)",
  [chartColours.soft]: "var(--faint)",
  [chartColours.ink]: "var(--ink)",
  "#e4e8ea": "var(--grid)",
  "#fff": "var(--paper)",
};

/** A drawing with its colours replaced by the page's names. */
export const inPageColours = (svg: string): string =>
  svg.replace(/"(#[0-9a-f]{3,6})"/g, (whole, colour: string) =>
    colour in PAGE_COLOURS ? `"${PAGE_COLOURS[colour]}"` : whole,
  );
