import type { Db } from '../../../src/store/db.js';
import { stepNotice, wantNotice } from '../../../src/store/notices.js';

/** A table's card that stands in C1 at `ts`, so that what is written under it is the table's. */
export async function standTableCard(db: Db, ts: string): Promise<void> {
  const card = { workspace: 'T1', key: 'table:1' };
  const wanted = {
    subject: 'tasting:1',
    kind: 'message',
    lane: 'channel:C1',
    place_json: '{}',
    wanted_json: '{}',
    wanted_hash: 'h',
  };
  await wantNotice(db, { ...card, ...wanted });
  await stepNotice(db, card, { channel: 'C1', ts });
}
