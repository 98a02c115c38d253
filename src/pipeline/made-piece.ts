import type { Photo } from "../1-photo/decode.js";
import type { TonalResolution } from "../5-burn/tonal-resolution.js";
import type { Report } from "../6-report/report.js";
import type { PackedBitmap } from "../core/packed-bits.js";
import type { CodeRows } from "../core/plane-rows.js";
import type { Reader } from "../core/reader.js";
import type { DrawingOnGrid } from "./burn/artwork.js";
import type { BurnRule } from "./burn/burn-rule.js";
import type { BurnedBitmap } from "./burn/burn-stage.js";
import type { ChosenMethod } from "./burn/choose-method.js";
import type { SettledJob } from "./job.js";
import type { Fidelity } from "./judge/fidelity.js";
import type { PieceErrors } from "./judge/judge-piece.js";
import type { LevelSteps, OnOff } from "./judge/level-facts.js";
import type { PictureOnGrid } from "./photo/picture-rows.js";
import type { SeamStep } from "./photo/seam.js";
import type { SettledKind } from "./photo/settle-kind.js";
import type { SearchedFacts } from "./search/searched-bitmap.js";
import type { Finding } from "./triage/findings.js";

/** A photo on the grid, or a drawing whose edges stay sharp. */
export interface SettledPicture {
  readonly job: SettledJob;
  readonly kind: Pick<SettledKind, "guessed" | "looksLikeArtwork">;
  readonly picture: PictureOnGrid;
  /** The picture, if it is a drawing. */
  readonly drawing: DrawingOnGrid | undefined;
}

/** A finished piece and the facts about it. */
export interface MadePiece extends SettledPicture, ChosenMethod {
  readonly fileName: string;
  /** Who reads the warnings. */
  readonly reader: Reader;
  /** The whole photo. */
  readonly source: Photo;
  readonly rule: BurnRule;
  /** Only if edges were placed. */
  readonly edges: Report["edges"];
  readonly burned: BurnedBitmap;
  /** Only after a search. */
  readonly searched?: SearchedFacts;
  readonly errors?: PieceErrors;
  /** Of a photograph. */
  readonly tones?: readonly TonalResolution[];
  /** What triage found about the photo; nothing if nobody asked. */
  readonly findings: readonly Finding[];
  /** Only for who asks about the photo. */
  readonly fidelity?: Fidelity;
  /** With more than two power levels. */
  readonly steps?: LevelSteps;
  readonly onOff?: OnOff;
  /** Of a picture that closes around the piece. */
  readonly seam?: SeamStep | undefined;
}

/** A judged piece, with everything that further measurements need. */
export interface JudgedPiece extends MadePiece {
  readonly bitmap: PackedBitmap;
  /** The photo's luminance on the grid. */
  readonly codes: CodeRows;
  readonly errors: PieceErrors;
}
