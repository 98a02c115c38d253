import type { HeadMotion } from "../5-burn/run-time.js";
import type { BitmapFormat } from "../6-report/files/bitmap-file.js";
import type { SpotpitchError } from "../core/errors.js";
import type { Pitch } from "../core/plane.js";

/** What one run of the machine has in common. Pieces with another setting need another bitmap. */
export interface BurnSetting {
  readonly pitch: Pitch;
  /** Power levels, 2..256. */
  readonly levels: number;
  readonly format: BitmapFormat;
  readonly material: string;
  /** Of the bare surface, `#rrggbb`; for the preview. */
  readonly bareColor: string;
  readonly head: HeadMotion;
  /** The same text for the same setting. It holds all that the machine needs to know, also what this type does not name. */
  readonly key: string;
}

/** A piece that was prepared and written. */
export interface BoardPiece {
  /** It tells pieces apart, and stands on the preview. */
  readonly name: string;
  /** How many of it are wanted. */
  readonly copies: number;
  readonly columns: number;
  readonly rows: number;
  readonly setting: BurnSetting;
  readonly bitmap: PieceFile;
  /** Absent without a prediction. */
  readonly preview?: PieceFile;
}

export interface PieceFile {
  readonly path: string;
  readonly sha256: string;
}

/** Where one copy of a piece lies on a board, in whole pixels of the board's bitmap. */
export interface Place {
  readonly piece: BoardPiece;
  /** From 1. */
  readonly copy: number;
  readonly left: number;
  readonly top: number;
  /** In a jig. */
  readonly pocket?: PocketPlace;
}

/** The pocket of a jig in which a piece lies, and how far whole pixels put the piece beside its middle. */
export interface PocketPlace {
  readonly name: string;
  /** At most half a pitch. */
  readonly offMiddleMm: { readonly along: number; readonly across: number };
}

/** One bitmap of several pieces. */
export interface BoardLayout {
  readonly setting: BurnSetting;
  readonly columns: number;
  readonly rows: number;
  /** In the order in which they are numbered: shelf by shelf, or pocket by pocket. */
  readonly places: readonly Place[];
}

/** A piece that lies on no board. */
export interface LeftOut {
  readonly piece: BoardPiece;
  readonly reason: SpotpitchError;
}

/** All boards of some pieces. */
export interface Boards {
  readonly boards: readonly BoardLayout[];
  readonly leftOut: readonly LeftOut[];
}
