import type { Film } from "./film.js";
import type { Image } from "./image.js";

/** One sample picture: its size, how to render it and the film it is developed on. */
export interface Picture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly film: Film;
  readonly render: (width: number, height: number) => Image;
}
