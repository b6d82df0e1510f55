import { clearChanged, listChanged, type Subject } from '../store/changed.js';
import { wantNotice } from '../store/notices.js';
import { inTransaction } from '../store/transaction.js';
import { canonicalJson, hashOf } from './canonical.js';
import type { House } from './house.js';

const SUBJECTS = 20;

/** Stores what the subjects that changed should show now, however often they changed; false when none did. */
export async function workOutChanged(house: House): Promise<boolean> {
  const subjects = await listChanged(house.deps.db, SUBJECTS);
  for (const subject of subjects) await workOut(house, subject);
  return subjects.length > 0;
}

async function workOut(house: House, subject: Subject): Promise<void> {
  await inTransaction(house.deps.db, async (db) => {
    await clearChanged(db, subject);
    const { workspace } = subject;
    for (const notice of await house.bot.notices({ ...house.deps, db }, workspace, subject.subject)) {
      const wantedJson = canonicalJson(notice);
      await wantNotice(db, {
        workspace,
        key: notice.key,
        subject: subject.subject,
        kind: notice.kind,
        placeJson: canonicalJson('place' in notice ? notice.place : {}),
        wantedJson,
        hash: hashOf(wantedJson),
      });
    }
  });
}
