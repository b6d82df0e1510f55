import type { MovableClock } from './clock.js';
import type { Db } from './state/database.js';
import { newestTs } from './state/messages.js';

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
