/** The catalogue entry of an error (see `refusals/`) and the data for its words. */
export interface RefusalFacts {
  readonly id: string;
  /** Plain values, which can be sent between threads. */
  readonly data: object;
}

/**
 * Every failure that a user can cause has one stable code. Codes and exit statuses are promised; wording is not.
 *
 * - `OPTION_*`: a value that the user chose is wrong (exit status 2).
 * - `INPUT_*`: a file that the user gave cannot be used (exit status 3).
 * - `OUTPUT_*`, `QUEUE_*`, `INTERNAL`: something failed during the work (exit status 1).
 */
export type ErrorCode =
  | "OPTION_INVALID"
  | "OPTION_UNKNOWN"
  | "OPTION_CONFLICT"
  | "OPTION_TOO_LARGE"
  | "OPTION_OUTSIDE_PHOTO"
  | "OPTION_MATERIAL_UNKNOWN"
  | "OPTION_MATERIAL_FORBIDDEN"
  | "OPTION_METHOD_UNKNOWN"
  | "OPTION_METHOD_GRID"
  | "OPTION_METHOD_LEVELS"
  | "INPUT_MISSING"
  | "INPUT_UNREADABLE"
  | "INPUT_EMPTY"
  | "INPUT_NOT_AN_IMAGE"
  | "INPUT_DAMAGED"
  | "INPUT_TOO_LARGE"
  | "INPUT_BITMAP_UNFIT"
  | "INPUT_MASK_SHAPE"
  | "INPUT_MATERIAL_INVALID"
  | "INPUT_MACHINE_INVALID"
  | "INPUT_CARD_UNREADABLE"
  | "INPUT_CONFIG_INVALID"
  | "INPUT_SHEET_INVALID"
  | "INPUT_JIG_INVALID"
  | "INPUT_LINK"
  | "INPUT_NOT_A_FILE"
  | "INPUT_CHANGING"
  | "INPUT_UNSAFE_DRAWING"
  | "INPUT_TOO_DEMANDING"
  | "OUTPUT_UNWRITABLE"
  | "OUTPUT_BUSY"
  | "QUEUE_UNREACHABLE"
  | "QUEUE_GAVE_UP"
  | "INTERNAL";

/** Details of an error besides its code and its message. */
export interface ErrorDetails {
  /** The option or file field at fault, as the user writes it. */
  readonly option?: string;
  readonly received?: unknown;
  /** What is accepted, in words. */
  readonly allowed?: string;
  readonly cause?: unknown;
  /** Absent if only the message is known. */
  readonly refusal?: RefusalFacts;
}

/** The one error class of the library and of the command. */
export class SpotpitchError extends Error {
  override readonly name = "SpotpitchError";
  readonly code: ErrorCode;
  readonly option: string | undefined;
  readonly received: unknown;
  readonly allowed: string | undefined;
  readonly refusal: RefusalFacts | undefined;

  constructor(code: ErrorCode, message: string, details: ErrorDetails = {}) {
    super(message, details.cause === undefined ? {} : { cause: details.cause });
    this.code = code;
    this.option = details.option;
    this.received = details.received;
    this.allowed = details.allowed;
    this.refusal = details.refusal;
  }
}

/** An error in a form that can be sent between threads. */
export interface Failure extends Omit<ErrorDetails, "cause"> {
  readonly code: ErrorCode;
  readonly message: string;
  /** Where the error was thrown, in the thread that threw it. */
  readonly stack?: string;
}

export function failureOf(error: unknown): Failure {
  const stack = error instanceof Error && error.stack !== undefined ? { stack: error.stack } : {};
  if (!(error instanceof SpotpitchError)) {
    return { code: "INTERNAL", message: error instanceof Error ? error.message : String(error), ...stack };
  }
  const { code, message, option, received, allowed, refusal } = error;
  return {
    ...{ code, message, ...stack },
    ...(option !== undefined && { option }),
    ...(received !== undefined && { received }),
    ...(allowed !== undefined && { allowed }),
    ...(refusal !== undefined && { refusal }),
  };
}

export function errorOf({ code, message, stack, ...details }: Failure): SpotpitchError {
  const error = new SpotpitchError(code, message, details);
  if (stack !== undefined) error.stack = stack;
  return error;
}

/** Exit status of the command for an error: 1 failed during the work, 2 bad option, 3 bad input file. */
export function exitStatus(error: unknown): 1 | 2 | 3 {
  if (!(error instanceof SpotpitchError)) return 1;
  if (error.code.startsWith("OPTION_")) return 2;
  return error.code.startsWith("INPUT_") ? 3 : 1;
}
