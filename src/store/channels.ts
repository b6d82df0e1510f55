import { LIVE_STATES } from '../domain/record/tasting.js';
import type { DbOrTransaction } from './db.js';

/** Channels of tastings that are still to come or going on, in every workspace of this database. */
export async function listChannels(db: DbOrTransaction): Promise<readonly string[]> {
  const rows = await db
    .selectFrom('tasting')
    .select('channel')
    .distinct()
    .where('state', 'in', LIVE_STATES)
    .orderBy('channel')
    .execute();
  return rows.map(({ channel }) => channel);
}
