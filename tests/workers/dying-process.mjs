/** Functions for a process in the tests: one answers; the others end the process, fail, or never return. */
export const ready = () => {};
export const answer = (name) => `greets ${name}`;
export const exit = () => process.exit(0);
export const kill = () => process.kill(process.pid, "SIGKILL");
export const uncloneable = () => () => {};
export const late = () => new Promise(() => setInterval(() => {}, 1000));
