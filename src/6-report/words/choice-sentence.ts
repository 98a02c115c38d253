import type { Candidate } from "../comparison.js";
import { candidateName, choicesOf } from "./comparison-columns.js";
import { lightness, savedWords } from "./winner-words.js";

/** What to take of the candidates of one material. All are indices. */
export interface Advised {
  readonly group: readonly number[];
  readonly taken: number;
  /** The smallest expected error of all. */
  readonly best: number;
  /** The smallest expected error among those whose texture is as fine as that of the taken one. */
  readonly bestOfTexture: number;
}

/** What to take and why, in one sentence. */
export function choiceSentence(candidates: readonly Candidate[], advised: readonly Advised[]): string {
  const told = advised.map((one) => {
    const named = nameIn(candidates, one);
    const where = advised.length > 1 ? ` on ${candidates[one.taken].material}` : "";
    return `${named(one.taken)}${where}: ${why(candidates, one, named)}`;
  });
  return `Take ${told.join("; and ")}.`;
}

/** Names a candidate by the choices that differ among those of its material. */
function nameIn(candidates: readonly Candidate[], { group }: Advised): (k: number) => string {
  const differing = choicesOf(
    group.map((k) => candidates[k]),
    true,
  );
  return (k) => candidateName(candidates[k], differing) || candidates[k].method;
}

function why(
  candidates: readonly Candidate[],
  { group, taken, best, bestOfTexture }: Advised,
  named: (k: number) => string,
): string {
  const error = lightness(candidates[taken].expectedVisualError);
  if (group.length === 1) return `its expected error is ${error}`;
  if (taken === best) return `its expected error is the smallest (${error})`;
  const least = lightness(candidates[best].expectedVisualError);
  const alike = `nobody can tell its expected error of ${error} from the smallest (${least}, ${named(best)})`;
  const reasons = [
    ...(bestOfTexture === best ? [] : ["its texture is finer"]),
    ...(taken === bestOfTexture
      ? []
      : [
          `it saves ${savedWords(candidates[taken], candidates[bestOfTexture])} of the time${bestOfTexture === best ? "" : ` of ${named(bestOfTexture)}`}`,
        ]),
  ];
  return `${alike}, and ${reasons.join(", and ")}`;
}
