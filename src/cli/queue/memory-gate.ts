/** Lets jobs begin within the memory of this computer, in the order in which they come. */
export interface MemoryGate {
  /** Whether a job of this size fits at all. */
  readonly fits: (bytes: number) => boolean;
  readonly within: <Value>(bytes: number, work: () => Promise<Value>) => Promise<Value>;
}

export function createMemoryGate(allBytes: number): MemoryGate {
  const waiting: { readonly bytes: number; readonly go: () => void }[] = [];
  let usedBytes = 0;
  const letIn = (): void => {
    while (waiting.length > 0 && usedBytes + waiting[0].bytes <= allBytes) {
      usedBytes += waiting[0].bytes;
      waiting.shift()?.go();
    }
  };
  return {
    fits: (bytes) => bytes <= allBytes,
    async within(bytes, work) {
      await new Promise<void>((go) => {
        waiting.push({ bytes, go });
        letIn();
      });
      try {
        return await work();
      } finally {
        usedBytes -= bytes;
        letIn();
      }
    },
  };
}
