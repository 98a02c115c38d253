import { SpotpitchError } from "../core/errors.js";
import type { PrepareOptions } from "../core/options.js";
import { type Flag, flagName } from "./flags.js";
import { readJsonFile } from "./input-files.js";

/**
 * Options of the library from what the user typed and, beneath it, a config file. The command line wins.
 *
 * @param typed values by flag name (without dashes), as text or true; only what was really typed
 */
export async function readOptions(
  flags: readonly Flag[],
  typed: ReadonlyMap<string, string | boolean>,
  configFile: string | undefined,
): Promise<PrepareOptions> {
  const options: Record<string, unknown> = {};
  if (configFile !== undefined) Object.assign(options, await configOptions(flags, configFile));
  for (const flag of flags) {
    const value = typed.get(flagName(flag));
    if (value !== undefined) options[flag.option] = flag.parse(`--${flagName(flag)}`, String(value));
  }
  if (typeof options.material === "string" && isFileName(options.material)) {
    options.material = await readJsonFile(options.material, "INPUT_MATERIAL_INVALID");
  }
  return options as PrepareOptions;
}

async function configOptions(flags: readonly Flag[], file: string): Promise<Record<string, unknown>> {
  const content = await readJsonFile(file, "INPUT_CONFIG_INVALID");
  if (typeof content !== "object" || content === null || Array.isArray(content)) {
    throw new SpotpitchError("INPUT_CONFIG_INVALID", `${file} must hold one JSON object of options.`, {
      option: "config",
    });
  }
  const options: Record<string, unknown> = {};
  for (const [name, value] of Object.entries(content)) {
    const flag = flags.find((candidate) => flagName(candidate) === name);
    if (!flag) {
      const allowed = flags.map(flagName).join(", ");
      throw new SpotpitchError(
        "INPUT_CONFIG_INVALID",
        `${file}: there is no option "${name}"; there are ${allowed}.`,
        {
          option: "config",
          received: name,
          allowed,
        },
      );
    }
    const isSwitch = !flag.usage.includes("<");
    if (isSwitch && typeof value !== "boolean") {
      throw new SpotpitchError("INPUT_CONFIG_INVALID", `${file}: "${name}" is true or false.`, {
        option: "config",
        received: value,
      });
    }
    if (value === false) continue;
    options[flag.option] =
      typeof value === "object" ? value : flag.parse(`"${name}" in ${file}`, String(value));
  }
  return options;
}

const isFileName = (material: string): boolean => /\.json$/i.test(material) || /[\\/]/.test(material);
