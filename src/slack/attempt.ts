import { KindRefusal } from '../errors.js';
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
    if (error instanceof KindRefusal) return { ok: false, problem: error };
    house.counters.failed.inc({ where });
    return { ok: false, problem: recordFault(error, house.deps.log, where) };
  } finally {
    if (house.rowsWritten() !== before) house.wake();
  }
}
