/** A thread, and a lane, that ends in the ways in which one can end. Runs from the built package. */
import { SpotpitchError } from "../../dist/core/errors.js";
import { serveThread } from "../../dist/workers/thread.js";

const ends = {
  exit: () => process.exit(0),
  throw: () =>
    new Promise(() =>
      setTimeout(() => {
        throw new Error("out of step");
      }),
    ),
  memory: () => {
    const all = [];
    for (;;) all.push(new Array(1e5).fill(Math.random()));
  },
  uncloneable: () => () => {},
  error: () => {
    throw new Error("told as it is");
  },
  details: () => {
    throw new SpotpitchError("OPTION_INVALID", "told without its details", { received: () => {} });
  },
};

serveThread((_, call) => ({
  answer: async (how) => (how in ends ? ends[how]() : `${how} ${await call("greet", how)}`),
}));
