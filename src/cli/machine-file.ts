import { mkdir, rename, rm, writeFile } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import envPaths from "env-paths";
import { SpotpitchError } from "../core/errors.js";
import { refusedWith } from "../core/refusals/refusals.js";
import { type Machine, resolveMachine } from "../options/machine.js";
import { readerOf } from "./command-reader.js";
import type { Flag } from "./flags.js";
import type { Given } from "./given.js";
import { readJsonFile } from "./input-files.js";
import { reasonOf } from "./output-files.js";
import { refused } from "./refusals.js";

/** A machine file as typed; false for none, not even the user's default. */
export type AskedMachine = string | false | undefined;

/** The user's default machine: a copy of a machine file in the folder of the user's settings. */
export const defaultMachinePath = (): string =>
  join(envPaths("spotpitch", { suffix: "" }).config, "machine.json");

export interface MachineFile {
  readonly machine: Machine;
  readonly path: string;
  /** For reports: "the machine file mine.json". */
  readonly where: string;
}

/** The machine that was asked for, else the user's default, else undefined. Throws `INPUT_*`. */
export async function findMachine(asked: AskedMachine): Promise<MachineFile | undefined> {
  if (asked === false) return undefined;
  if (asked !== undefined) {
    const machine = await readMachineFile(asked);
    return { machine, path: asked, where: `the machine file ${basename(asked)}` };
  }
  const path = defaultMachinePath();
  try {
    const machine = await readMachineFile(path);
    return { machine, path, where: `your default machine (${machine.name})` };
  } catch (error) {
    if (error instanceof SpotpitchError && error.code === "INPUT_MISSING") return undefined;
    throw error;
  }
}

/** Read and check a machine file. Throws `INPUT_*`. */
export async function readMachineFile(file: string): Promise<Machine> {
  const content = await readJsonFile(file, "machine file");
  try {
    return resolveMachine(content);
  } catch (error) {
    throw error instanceof SpotpitchError ? refusedWith(error, { file }) : error;
  }
}

/** The figures of a machine that a command takes. */
export function machineGiven({ machine, path, where }: MachineFile, flags: readonly Flag[]): Given[] {
  const reader = readerOf(path);
  return Object.entries(machine.options).flatMap(([option, value]) => {
    const flag = flags.find((each) => each.option === option);
    return flag ? [{ flag, value, written: value, reader, where }] : [];
  });
}

/** Keep a machine as the user's default. Throws `OUTPUT_UNWRITABLE`. */
export async function keepMachine({ name, source, options }: Machine): Promise<void> {
  const path = defaultMachinePath();
  try {
    await mkdir(dirname(path), { recursive: true });
    const temporary = `${path}.${process.pid}.part`;
    await writeFile(temporary, `${JSON.stringify({ name, source, ...options }, undefined, 2)}\n`);
    await rename(temporary, path);
  } catch (error) {
    throw refused.unwritable(path, reasonOf(error), "The machine is not kept.", error);
  }
}

/** Forget the user's default machine. Throws `OUTPUT_UNWRITABLE`. */
export async function forgetMachine(): Promise<void> {
  const path = defaultMachinePath();
  try {
    await rm(path, { force: true });
  } catch (error) {
    throw refused.unwritable(path, reasonOf(error), "The machine is still kept.", error);
  }
}
