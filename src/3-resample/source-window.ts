/** Part of the source that is engraved, in source pixels from its upper left corner; usually fractional. */
export interface SourceWindow {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}
