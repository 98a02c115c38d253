/** An axis. Lengths of the ticks follow from the data. */
export interface ChartAxis {
  readonly name: string;
  /** Equal steps for equal factors, with a tick at each doubling. */
  readonly doubling?: boolean;
  readonly min?: number;
  readonly max?: number;
}

/** A point with a word beside it. */
export interface ChartPoint {
  readonly x: number;
  readonly y: number;
  readonly word?: string;
}

export interface ChartLine {
  readonly name: string;
  readonly points: readonly ChartPoint[];
  readonly colour: string;
  /** In pixels. The main line is thicker. */
  readonly width?: number;
  readonly dash?: "solid" | "dashed" | "dotted";
  readonly symbol?: "circle" | "rect" | "triangle" | "diamond" | "none";
  /** Belongs to the axis on the right. */
  readonly right?: boolean;
}

/** A straight line across the chart, with words. */
export interface ChartMark {
  readonly along: "x" | "y";
  readonly at: number;
  readonly words: string;
  /** Side of the words of a horizontal line; default: right. */
  readonly side?: "left" | "right";
  readonly colour?: string;
}

export interface Chart {
  /** Names the picture for screen readers, and makes its ids unique on the page. */
  readonly id: string;
  readonly summary: string;
  readonly x: ChartAxis;
  readonly y: ChartAxis;
  readonly right?: ChartAxis;
  readonly lines: readonly ChartLine[];
  readonly marks?: readonly ChartMark[];
  /** A point to mark with a ring. */
  readonly chosen?: ChartPoint;
}

/** A chart with its title and its caption. */
export interface ChartFigure {
  readonly title: string;
  readonly caption: string;
  readonly chart: Chart;
}
