import { materialDoubtful, materialIllustrative, measureIt } from "../shared-matters.js";
import { warning } from "./rule.js";

const isIllustrative = (source: string): boolean => /^illustrative\b/i.test(source);

/** Probable mistakes in the material's data, on which all figures depend. */
export const doubtWarnings = {
  "material-doubtful": warning({ ...materialDoubtful, when: ({ facts }) => facts.materialDoubts }),
};

/** The source of the material's tones. */
export const materialWarnings = {
  "material-illustrative": warning({
    ...materialIllustrative,
    when: ({ job: { material, materialSource } }) => isIllustrative(materialSource) && { material },
  }),
  "material-not-measured-here": warning({
    title: "A material not marked as measured",
    when: ({ job: { material, materialSource: source } }) =>
      !isIllustrative(source) && !/^measured\b/i.test(source) && { material, source },
    happens: ({ material, source }) =>
      `The tones of ${material} are not marked as measured (source: ${source}): prediction and advice are only as good as they are.`,
    whatToDo: ({ material }, reader) => measureIt(material, reader),
  }),
};
