import { renameSync, writeFileSync } from 'node:fs';
import { type Db, readFact, writeFact } from './state/database.js';
import { newestTs } from './state/messages.js';

/** The workspace's time: real time (or the clock handed in) plus how far it has been moved on. */
export type MovableClock = {
  readonly now: () => Date;
  readonly offsetMs: () => number;
  /** Moves to an instant; time never goes back, so an earlier one answers false and changes nothing. */
  readonly moveTo: (instant: Date) => boolean;
  /** Calls the listener after each move; answers how to stop listening. */
  readonly onMove: (listener: () => void) => () => void;
};

const FACT = 'clock_offset_ms';

/**
 * A clock whose offset is kept in the database. With a `clockFile` the offset from real time is also
 * written there as `{"offsetMs":…}`, replaced in one step, for a bot in another process.
 */
export function movableClock(db: Db, base: { now(): Date }, clockFile: string | undefined): MovableClock {
  let offset = Number(readFact(db, FACT) ?? '0');
  const listeners = new Set<() => void>();
  const now = (): Date => new Date(base.now().getTime() + offset);
  const publish = (): void => {
    if (clockFile === undefined) return;
    const draft = `${clockFile}.draft`;
    writeFileSync(draft, JSON.stringify({ offsetMs: now().getTime() - Date.now() }));
    renameSync(draft, clockFile);
  };
  publish();
  return {
    now,
    offsetMs: () => offset,
    moveTo: (instant) => {
      const step = instant.getTime() - now().getTime();
      if (step < 0) return false;
      offset += step;
      writeFact(db, FACT, String(offset));
      publish();
      for (const listener of [...listeners]) listener();
      return true;
    },
    onMove: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** Message timestamps: seconds and six digits as text, each later than every one before it. */
export function timestampSource(db: Db, clock: MovableClock): () => string {
  let last = microseconds(newestTs(db) ?? '0.000000');
  return () => {
    last = Math.max(last + 1, clock.now().getTime() * 1_000);
    const digits = String(last).padStart(16, '0');
    return `${digits.slice(0, -6)}.${digits.slice(-6)}`;
  };
}

function microseconds(ts: string): number {
  return Number(ts.replace('.', ''));
}
