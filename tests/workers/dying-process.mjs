/** What a process is asked for in the tests: an answer, or to end in one of the ways in which one can end. */
export const answer = (name) => `greets ${name}`;
export const exit = () => process.exit(0);
export const kill = () => process.kill(process.pid, "SIGKILL");
export const uncloneable = () => () => {};
export const late = () => new Promise(() => setInterval(() => {}, 1000));
