import { readFileSync } from 'node:fs';
import { z } from 'zod';

/** Where the bot takes the time from; handed in, so that a tasting's weeks can pass in a test. */
export type Clock = {
  now(): Date;
  /** Calls back when the time was moved by hand (never in real use); returns how to stop listening. */
  onMove(listener: () => void): () => void;
};

/** The machine's own clock. */
export const systemClock: Clock = { now: () => new Date(), onMove: () => () => {} };

const Moved = z.object({ offsetMs: z.number() });
const LOOK_EVERY_MS = 100;

/**
 * The machine's clock moved by what a file says (`{"offsetMs": …}`), for a bot beside a workspace whose
 * time is moved by hand. A file that is missing or being written leaves the time as it was.
 */
export function fileClock(file: string): Clock {
  const listeners = new Set<() => void>();
  let offsetMs = readOffset(file) ?? 0;
  const timer = setInterval(() => {
    const read = readOffset(file);
    if (read === null || read === offsetMs) return;
    offsetMs = read;
    for (const listener of listeners) listener();
  }, LOOK_EVERY_MS);
  timer.unref();
  return {
    now: () => new Date(Date.now() + offsetMs),
    onMove: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

function readOffset(file: string): number | null {
  try {
    return Moved.parse(JSON.parse(readFileSync(file, 'utf8'))).offsetMs;
  } catch {
    return null;
  }
}
