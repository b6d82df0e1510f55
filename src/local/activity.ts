/** Work under way that a caller may want to see finished. */
export type Activity = {
  readonly during: <T>(work: () => Promise<T>) => Promise<T>;
  /** The same for a Web API call, after which the bot is not quiet for a while. */
  readonly call: <T>(work: () => Promise<T>) => Promise<T>;
  readonly running: () => number;
  /** Resolves once nothing is under way. */
  readonly idle: () => Promise<void>;
  /** Real milliseconds since a Web API call last began or ended. */
  readonly quietFor: () => number;
};

export function activity(): Activity {
  let running = 0;
  let lastCall = 0;
  let waiting: (() => void)[] = [];
  const during = async <T>(work: () => Promise<T>): Promise<T> => {
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
  };
  return {
    during,
    call: async (work) => {
      lastCall = performance.now();
      try {
        return await during(work);
      } finally {
        lastCall = performance.now();
      }
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
