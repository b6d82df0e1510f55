import { sql } from 'kysely';
import { LIVE_STATES, type Tasting } from '../domain/record/tasting.js';
import type { DbOrTransaction } from './db.js';
import { prepared } from './prepared.js';

/** A table that is not decided yet, as far as one person's next steps depend on it. */
export type TableAhead = Pick<Tasting, 'id' | 'number' | 'host' | 'channel' | 'startsAt'> & {
  readonly state: (typeof LIVE_STATES)[number];
  readonly isInvited: boolean;
};

const ahead = prepared<{ readonly workspace: string; readonly person: string }>()((db, given) =>
  db
    .selectFrom('tasting')
    .select(['id', 'number', 'state', 'host', 'channel', 'starts_at'])
    .select(
      sql<number>`exists (select 1 from invited where tasting_id = tasting.id and person = ${given('person')})`.as(
        'is_invited',
      ),
    )
    .where('workspace', '=', given('workspace'))
    .where('state', 'in', LIVE_STATES)
    .orderBy('starts_at')
    .orderBy('id'),
);

/** The tables that are not decided yet, soonest first, and whether this person is invited to them. */
export async function listTablesAhead(
  db: DbOrTransaction,
  workspace: string,
  person: string,
): Promise<readonly TableAhead[]> {
  const rows = await ahead(db, { workspace, person });
  return rows.flatMap((row) => {
    const state = LIVE_STATES.find((known) => known === row.state);
    if (state === undefined) return [];
    const { id, number, host, channel } = row;
    return [
      {
        id,
        number,
        state,
        host,
        channel,
        startsAt: new Date(row.starts_at),
        isInvited: row.is_invited === 1,
      },
    ];
  });
}
