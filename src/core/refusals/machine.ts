import type { RefusalEntry } from "./entry.js";
import type { OfFile } from "./material.js";

/** A fault of a machine file. @param fault the end of the sentence, without full stop */
function ofFile<Data>(fault: (data: Data) => string): RefusalEntry<Data & OfFile> {
  return {
    code: "INPUT_MACHINE_INVALID",
    option: "machine",
    words: (data) =>
      `The machine file${data.file === undefined ? "" : ` "${data.file}"`} cannot be used: ${fault(data)}.`,
  };
}

/** Faulty machine files. */
export const machineRefusals = {
  "machine-not-an-object": ofFile<object>(() => "it must be one object with the fields of a machine"),
  "machine-unknown-field": ofFile<{ readonly field: string; readonly known: readonly string[] }>(
    ({ field, known }) => `there is no field "${field}"; the fields are ${known.join(", ")}`,
  ),
  "machine-missing-name": ofFile<object>(() => "name is missing: a name for your machine"),
  "machine-wrong-field": ofFile<{ readonly field: string; readonly wanted: string; readonly got: string }>(
    ({ field, wanted, got }) => `${field} takes ${wanted}; it is ${got}`,
  ),
};
