import { KindRefusal } from '../runtime/errors.js';
import { type Fault, recordFault } from './apology.js';
import type { House } from './house.js';

export type Attempt<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problem: KindRefusal | Fault };

/**
 * Runs one of the bot's handlers and lets nothing out: a refusal is a value, a fault is logged and counted.
 * Nothing but an event may throw into Bolt, or the person's answer would be lost. When it wrote anything, the loops look.
 */
export async function attempt<T>(house: House, where: string, work: () => Promise<T>): Promise<Attempt<T>> {
  const before = house.rowsWritten();
  try {
    return { ok: true, value: await work() };
  } catch (error) {
    return { ok: false, problem: problemOf(house, where, error) };
  } finally {
    if (house.rowsWritten() !== before) house.wake();
  }
}

/** What to tell the person whose doing failed: a refusal as it is, a fault after it was logged and counted. */
export function problemOf(house: House, where: string, error: unknown): KindRefusal | Fault {
  if (error instanceof KindRefusal) return error;
  house.counters.failed.inc({ where });
  return recordFault(error, house.deps.log, where);
}
