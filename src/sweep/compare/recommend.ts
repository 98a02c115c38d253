import { findHalftoneMethod } from "../../4-halftone/halftone.js";
import type { Candidate, ComparedChoice } from "../../6-report/comparison.js";
import { type Advised, choiceSentence } from "../../6-report/words/choice-sentence.js";
import { asGoodAsBest, minBy, quickIfWorthIt } from "./winners.js";

/** What the user should take: one candidate of each material. */
export function recommend(candidates: readonly Candidate[]): ComparedChoice {
  const materials = [...new Set(candidates.map(({ material }) => material))];
  const advised = materials.map((material) =>
    advisedOf(
      candidates,
      [...candidates.keys()].filter((k) => candidates[k].material === material),
    ),
  );
  return { candidates: advised.map(({ taken }) => taken), sentence: choiceSentence(candidates, advised) };
}

/**
 * The finest texture among those that nobody can tell from the best by their error. Among equally fine ones the one with the
 * smallest error, or a quicker one if it saves at least a tenth of the time.
 */
function advisedOf(candidates: readonly Candidate[], group: readonly number[]): Advised {
  const good = asGoodAsBest(candidates, group);
  const finest = Math.min(...good.map((k) => coarsenessOf(candidates[k])));
  const fine = good.filter((k) => coarsenessOf(candidates[k]) === finest);
  const errorOf = (k: number): number => candidates[k].expectedVisualError;
  return {
    group,
    taken: quickIfWorthIt(candidates, fine),
    best: minBy(group, errorOf),
    bestOfTexture: minBy(fine, errorOf),
  };
}

const coarsenessOf = ({ method }: Candidate): number => findHalftoneMethod(method).coarseness;
