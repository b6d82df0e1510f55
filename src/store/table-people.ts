import type { Tasting } from '../domain/record/tasting.js';
import type { DbOrTransaction } from './db.js';

/** Is this one of the table's own people: its host, invited to it, somebody who wrote there or roasts for it? */
export async function isOfTable(
  db: DbOrTransaction,
  tasting: Pick<Tasting, 'id' | 'host' | 'invited'>,
  person: string,
): Promise<boolean> {
  if (tasting.host === person || tasting.invited.includes(person)) return true;
  const written = await db
    .selectFrom('note')
    .select('id')
    .where('tasting_id', '=', tasting.id)
    .where('person', '=', person)
    .limit(1)
    .executeTakeFirst();
  if (written) return true;
  const asked = await db
    .selectFrom('ask_for')
    .innerJoin('ask', 'ask.id', 'ask_for.ask_id')
    .select('ask.id')
    .where('ask_for.tasting_id', '=', tasting.id)
    .where('ask.roaster', '=', person)
    .limit(1)
    .executeTakeFirst();
  return asked !== undefined;
}
