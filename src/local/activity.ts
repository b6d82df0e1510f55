/** Work under way that a caller may want to see finished. */
export type Activity = {
  readonly during: <T>(work: () => Promise<T>) => Promise<T>;
  /** A Web API call begins or ends. */
  readonly called: () => void;
  readonly running: () => number;
  /** Resolves once nothing is under way. */
  readonly idle: () => Promise<void>;
  /** Real milliseconds since the last Web API call. */
  readonly quietFor: () => number;
};

export function activity(): Activity {
  let running = 0;
  let lastCall = 0;
  let waiting: (() => void)[] = [];
  return {
    during: async (work) => {
      running += 1;
      try {
        return await work();
      } finally {
        running -= 1;
        if (running === 0) {
          for (const resolve of waiting) resolve();
          waiting = [];
        }
      }
    },
    called: () => {
      lastCall = performance.now();
    },
    running: () => running,
    idle: () =>
      new Promise((resolve) => {
        if (running === 0) resolve();
        else waiting.push(resolve);
      }),
    quietFor: () => performance.now() - lastCall,
  };
}
