import { clearChanged, listChanged, type Subject } from '../store/changed.js';
import type { DbOrTransaction } from '../store/db.js';
import { wantNotice } from '../store/notices.js';
import { inTransaction } from '../store/transaction.js';
import { canonicalJson, hashOf } from './canonical.js';
import type { House } from './house.js';
import { laneOf } from './wanted.js';

const SUBJECTS = 200;
/** The database is held for this long at most, as events that arrive meanwhile wait for it. */
const STEP_MS = 0.5;
/** A subject takes at most this share of the time: a table with thousands of notes is worked out less often. */
const SHARE = 0.1;
const AFTER_FAILURE_MS = 30_000;

/** Works out what changed subjects should show; null when none is left, else milliseconds until the next. */
export type WorkOut = () => Promise<number | null>;

/** However often a subject changed, it is worked out once, and no sooner than `gapMs` after the last time. */
export function createWorkOut(house: House, gapMs: number): WorkOut {
  const notBefore = new Map<string, number>();

  async function workOut(db: DbOrTransaction, subject: Subject): Promise<void> {
    const { workspace } = subject;
    const started = performance.now();
    const notices = await house.bot.notices({ ...house.deps, db }, workspace, subject.subject);
    await clearChanged(db, subject);
    for (const notice of notices) {
      const wantedJson = canonicalJson(notice);
      await wantNotice(db, {
        workspace,
        key: notice.key,
        subject: subject.subject,
        kind: notice.kind,
        lane: laneOf(notice),
        placeJson: canonicalJson('place' in notice ? notice.place : {}),
        wantedJson,
        hash: hashOf(wantedJson),
      });
    }
    const tookMs = performance.now() - started;
    notBefore.set(identity(subject), performance.now() + Math.max(gapMs, tookMs / SHARE - tookMs));
  }

  /** A subject that cannot be worked out must not keep the others from it. */
  async function safely(db: DbOrTransaction, subject: Subject): Promise<void> {
    try {
      await inTransaction(db, (unit) => workOut(unit, subject));
    } catch (error) {
      house.counters.failed.inc({ where: 'notices' });
      house.deps.log.error(
        { err: error, subject: subject.subject },
        'what should be shown cannot be worked out',
      );
      notBefore.set(identity(subject), performance.now() + AFTER_FAILURE_MS);
    }
  }

  /** Works out as many as fit into one step; the rest. */
  async function step(due: readonly Subject[]): Promise<readonly Subject[]> {
    const started = performance.now();
    let taken = 0;
    await house.relaxed(async (db) => {
      for (const subject of due) {
        await safely(db, subject);
        taken += 1;
        if (performance.now() - started > STEP_MS) break;
      }
    });
    return due.slice(taken);
  }

  return async () => {
    const subjects = await listChanged(house.deps.db, SUBJECTS);
    const now = performance.now();
    const dueIn = (subject: Subject) => (notBefore.get(identity(subject)) ?? 0) - now;
    const due = subjects.filter((subject) => dueIn(subject) <= 0);
    for (let left: readonly Subject[] = due; left.length > 0; left = await step(left))
      await house.rightOfWay.toShow();
    forget(notBefore, now);
    if (due.length > 0) return 0;
    return subjects.length === 0 ? null : Math.max(1, Math.min(...subjects.map(dueIn)));
  };
}

function identity({ workspace, subject }: Subject): string {
  return `${workspace} ${subject}`;
}

function forget(times: Map<string, number>, before: number): void {
  for (const [key, at] of times) if (at < before) times.delete(key);
}
