import { describe, expect, it } from "vitest";
import { type ErrorCode, errorOf, exitStatus, failureOf, SpotpitchError } from "../../src/core/errors.js";

describe("errors", () => {
  it("carry their code, what was at fault, and what would have done", () => {
    const cause = new Error("no such file");
    const error = new SpotpitchError("OPTION_INVALID", "width cannot be 0.", {
      option: "width",
      received: 0,
      allowed: "a length above 0",
      cause,
    });
    expect(error).toBeInstanceOf(Error);
    expect(error).toMatchObject({
      name: "SpotpitchError",
      code: "OPTION_INVALID",
      message: "width cannot be 0.",
      option: "width",
      received: 0,
      allowed: "a length above 0",
    });
    expect(error.cause).toBe(cause);
  });

  it("have no cause where none is given", () => {
    const error = new SpotpitchError("INTERNAL", "lost at sea");
    expect("cause" in error).toBe(false);
    expect(error.option).toBeUndefined();
  });

  // The three statuses are promised in the description of the codes.
  it.each<[ErrorCode, number]>([
    ["OPTION_INVALID", 2],
    ["OPTION_UNKNOWN", 2],
    ["OPTION_MATERIAL_FORBIDDEN", 2],
    ["OPTION_METHOD_GRID", 2],
    ["INPUT_MISSING", 3],
    ["INPUT_NOT_AN_IMAGE", 3],
    ["INPUT_MATERIAL_INVALID", 3],
    ["OUTPUT_UNWRITABLE", 1],
    ["INTERNAL", 1],
  ])("%s ends the command with status %d", (code, status) => {
    expect(exitStatus(new SpotpitchError(code, "x"))).toBe(status);
  });

  it("goes from thread to thread whole", () => {
    const details = { option: "widthMm", received: -1, allowed: "more than 0" };
    const sent = structuredClone(failureOf(new SpotpitchError("OPTION_INVALID", "x", details)));
    expect(errorOf(sent)).toMatchObject({ code: "OPTION_INVALID", message: "x", ...details });
    const thrown = new TypeError("y");
    const { stack } = thrown;
    expect(errorOf(failureOf(thrown))).toMatchObject({ code: "INTERNAL", message: "y", stack });
  });

  it.each([
    [new Error("x")],
    [new TypeError("OPTION_INVALID")],
    ["OPTION_INVALID"],
    [undefined],
    [{ code: "INPUT_MISSING" }],
  ])("anything else, such as %s, ends it with status 1", (thrown) => {
    expect(exitStatus(thrown)).toBe(1);
  });
});
