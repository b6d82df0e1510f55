import type { Change } from './api-types.js';

/** Tells open pages what has changed; nothing is kept. */
export type ChangeFeed = {
  readonly publish: (change: Change) => void;
  /** Answers how to stop listening. */
  readonly subscribe: (listener: (change: Change) => void) => () => void;
};

export function changeFeed(): ChangeFeed {
  const listeners = new Set<(change: Change) => void>();
  return {
    publish: (change) => {
      for (const listener of [...listeners]) listener(change);
    },
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
