import qrcode from "qrcode-generator";

/** A square of modules, row-major; 1 is burned on a material that darkens, and just as well on one that lightens. */
export interface CodeModules {
  readonly side: number;
  /** [side × side] */
  readonly modules: Uint8Array;
}

/** Shares of the code that may be spoilt, the largest first: about 30, 25 and 15 %. */
const CORRECTION = ["H", "Q", "M"] as const;

/** Bare modules that a reader needs around a code (ISO/IEC 18004). */
export const QUIET_MODULES = 4;

/** The smallest code for a text that survives some damage, with as much correction as its size has room for. */
export function codeModules(text: string): CodeModules {
  const smallest = made(text, "M").getModuleCount();
  const level = CORRECTION.find((each) => made(text, each).getModuleCount() === smallest) ?? "M";
  const code = made(text, level);
  const modules = Uint8Array.from({ length: smallest * smallest }, (_, i) =>
    code.isDark(Math.floor(i / smallest), i % smallest) ? 1 : 0,
  );
  return { side: smallest, modules };
}

function made(text: string, level: (typeof CORRECTION)[number]): ReturnType<typeof qrcode> {
  const code = qrcode(0, level);
  code.addData(text, "Alphanumeric");
  code.make();
  return code;
}
