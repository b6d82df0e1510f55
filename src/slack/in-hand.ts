import type { Log } from '../runtime/log.js';

/** Work that has begun and must be finished before the database closes. */
export type InHand = {
  run<T>(work: () => Promise<T>): Promise<T>;
  /** Work nobody waits for; what it throws is logged. */
  background(work: () => Promise<unknown>): void;
  readonly count: number;
  /** Resolves when nothing is in hand. */
  idle(): Promise<void>;
};

export function createInHand(log: Log): InHand {
  const current = new Set<Promise<unknown>>();

  function run<T>(work: () => Promise<T>): Promise<T> {
    const promise = work();
    current.add(promise);
    const done = () => current.delete(promise);
    promise.then(done, done);
    return promise;
  }

  return {
    run,
    background(work) {
      run(work).catch((error: unknown) => log.error({ err: error }, 'work in the background failed'));
    },
    get count() {
      return current.size;
    },
    async idle() {
      while (current.size > 0) await Promise.allSettled(current);
    },
  };
}
