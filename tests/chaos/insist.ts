import { setTimeout as sleep } from 'node:timers/promises';

/** What Slack told the person who acted. */
export type Told = {
  readonly ok: boolean;
  readonly error?: string | undefined;
  /** The bot did answer, and said no. */
  readonly answered?: boolean;
};

const PATIENCE_MS = 300_000;
const LOOK_EVERY_MS = 40;
const BREATH_MS = 250;
/** A bot that did not answer within three seconds may still be at it. */
const AFTER_TIME_OUT_MS = 3_000;
/** Answered this often without any effect: then it was no accident. */
const ANSWERED_IN_VAIN = 40;

/**
 * People do what failed again, but only after looking whether it took effect: what they did may have been
 * stored although the answer was lost.
 *
 * @throws Error when it cannot be brought about
 */
export async function insist(what: string, act: () => Promise<Told>, isDone: () => boolean): Promise<void> {
  const until = Date.now() + PATIENCE_MS;
  let inVain = 0;
  let last = 'nothing was tried';
  while (!isDone()) {
    if (Date.now() > until || inVain >= ANSWERED_IN_VAIN)
      throw new Error(`nobody managed to ${what}: ${last}`);
    const told = await attempt(act);
    if (told.ok || told.answered === true) inVain += 1;
    last = told.error ?? 'it was answered and nothing changed';
    if (await happens(isDone, told.error === 'operation_timeout' ? AFTER_TIME_OUT_MS : BREATH_MS)) return;
  }
}

/** True as soon as it is so; false when it still is not after this time. */
export async function happens(isSo: () => boolean | Promise<boolean>, withinMs: number): Promise<boolean> {
  const until = Date.now() + withinMs;
  for (;;) {
    if (await isSo()) return true;
    if (Date.now() >= until) return false;
    await sleep(LOOK_EVERY_MS);
  }
}

/** What cannot be tried yet, as when a card does not stand yet, counts as failed. */
async function attempt(act: () => Promise<Told>): Promise<Told> {
  try {
    return await act();
  } catch (error) {
    return { ok: false, error: error instanceof Error ? error.message : String(error) };
  }
}

const FIND_WITHIN_MS = 120_000;
const FIND_EVERY_MS = 60;

/**
 * What is looked for until it is there.
 *
 * @throws Error as the last look did
 */
export async function patiently<T>(find: () => Promise<T>): Promise<T> {
  const until = Date.now() + FIND_WITHIN_MS;
  for (;;) {
    try {
      return await find();
    } catch (error) {
      if (Date.now() > until) throw error;
      await sleep(FIND_EVERY_MS);
    }
  }
}
