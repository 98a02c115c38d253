import type { SettingFiles } from "./read-options.js";

/** The arguments of a command that takes a photo. */
export interface PhotoRequest extends SettingFiles {
  readonly photo: string;
  /** Typed, or undefined. */
  readonly out: string | undefined;
  readonly json: boolean;
  /** Values by flag name, only what was typed. */
  readonly typed: ReadonlyMap<string, string | boolean>;
}
