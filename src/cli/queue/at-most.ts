/** Runs work as soon as fewer than `count` pieces of it run, in the order in which it was given. */
export function atMost(count: number): <Value>(work: () => Promise<Value>) => Promise<Value> {
  const waiting: (() => void)[] = [];
  let running = 0;
  return async (work) => {
    if (running === count) await new Promise<void>((go) => waiting.push(go));
    else running++;
    try {
      return await work();
    } finally {
      // Its place goes to the next one.
      const next = waiting.shift();
      if (next) next();
      else running--;
    }
  };
}
