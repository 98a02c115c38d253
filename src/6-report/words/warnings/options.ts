import { idleOption } from "../idle-option.js";
import { warning } from "./rule.js";

/** Options that do not do what they were given for. */
export const optionWarnings = {
  "option-idle": warning({
    ...idleOption,
    when: ({ job: { method }, facts }) => facts.idleOptions.map((idle) => ({ ...idle, method })),
  }),
};
