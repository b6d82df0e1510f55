import { setImmediate as letRequestsIn } from 'node:timers/promises';
import { clearChanged, listChanged, type Subject } from '../../store/changed.js';
import { wantNotice } from '../../store/notices.js';
import type { Runtime } from '../runtime.js';
import { toWanted } from './stored-notice.js';

const SUBJECTS = 200;
/** A subject takes at most this share of the time: a table with thousands of notes is worked out less often. */
const SHARE = 0.1;
const AFTER_FAILURE_MS = 30_000;

/**
 * Works out what changed subjects should show; null when none is left, else milliseconds until the next. However
 * often a subject changed, it is worked out once, and no sooner than `gapMs` after the last time.
 */
export function createWorkOut({ bot, deps, relaxed, counters }: Runtime, gapMs: number) {
  const notBefore = new Map<string, number>();

  function workOut({ workspace, subject, at }: Subject): Promise<void> {
    return relaxed(async (db) => {
      const notices = await bot.notices({ ...deps, db }, workspace, subject);
      await clearChanged(db, { workspace, subject, at });
      for (const notice of notices) await wantNotice(db, toWanted(workspace, subject, notice));
    });
  }

  return async (): Promise<number | null> => {
    const subjects = await listChanged(deps.db, SUBJECTS);
    const now = performance.now();
    for (const [key, time] of notBefore) if (time < now) notBefore.delete(key);
    const due = subjects.filter((subject) => !notBefore.has(identity(subject)));
    for (const subject of due) {
      await letRequestsIn();
      const started = performance.now();
      let waitMs = AFTER_FAILURE_MS;
      try {
        await workOut(subject);
        const tookMs = performance.now() - started;
        waitMs = Math.max(gapMs, tookMs / SHARE - tookMs);
      } catch (error) {
        // A subject that cannot be worked out must not keep the others from it.
        counters.failed.inc({ where: 'notices' });
        deps.log.error({ err: error, subject: subject.subject }, 'what should be shown cannot be worked out');
      }
      notBefore.set(identity(subject), performance.now() + waitMs);
    }
    if (due.length > 0) return 0;
    const waits = subjects.map((subject) => (notBefore.get(identity(subject)) ?? 0) - now);
    return waits.length === 0 ? null : Math.max(1, Math.min(...waits));
  };
}

function identity({ workspace, subject }: Subject): string {
  return `${workspace} ${subject}`;
}
