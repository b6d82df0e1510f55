/** Work that has begun and must be finished before the database closes. */
export type InHand = {
  run<T>(work: () => Promise<T>): Promise<T>;
  readonly count: number;
  /** Resolves when nothing is in hand. */
  idle(): Promise<void>;
};

export function createInHand(): InHand {
  const current = new Set<Promise<unknown>>();
  return {
    run<T>(work: () => Promise<T>): Promise<T> {
      const promise = work();
      current.add(promise);
      const done = () => current.delete(promise);
      promise.then(done, done);
      return promise;
    },
    get count() {
      return current.size;
    },
    async idle() {
      while (current.size > 0) await Promise.allSettled(current);
    },
  };
}
