import { type Insertable, type Selectable, sql } from 'kysely';
import { z } from 'zod';
import { CUP_KINDS, type Cup, type CupPart, TASTING_STATES, type Tasting } from '../domain/record/tasting.js';
import type { DbOrTransaction } from './db.js';
import { prepared } from './prepared.js';
import type { CupTable, TastingTable } from './schema.js';

const State = z.enum(TASTING_STATES);
const Kind = z.enum(CUP_KINDS);
const Format = z.enum(['cupping', 'brewed']);
const People = z.array(z.string());
const Parts = z.array(z.object({ coffee: z.number().int(), parts: z.number().int().positive() }));

/** A tasting's row with the people invited to it, in the order they were, as JSON. */
function withInvited(db: DbOrTransaction) {
  return db
    .selectFrom('tasting')
    .selectAll()
    .select(
      sql<string>`(select json_group_array(person order by rowid) from invited where tasting_id = tasting.id)`.as(
        'invited_json',
      ),
    );
}

const byNumber = prepared<{ readonly workspace: string; readonly number: number }>()((db, given) =>
  withInvited(db).where('workspace', '=', given('workspace')).where('number', '=', given('number')),
);

const byId = prepared<{ readonly workspace: string; readonly id: number }>()((db, given) =>
  withInvited(db).where('workspace', '=', given('workspace')).where('id', '=', given('id')),
);

const cupsOf = prepared<{ readonly tastingId: number }>()((db, given) =>
  db.selectFrom('cup').selectAll().where('tasting_id', '=', given('tastingId')).orderBy('position'),
);

/** The tasting with this number (T4 → 4), or null. */
export async function findTastingByNumber(
  db: DbOrTransaction,
  workspace: string,
  number: number,
): Promise<Tasting | null> {
  const [row] = await byNumber(db, { workspace, number });
  return row ? toTasting(row) : null;
}

/** The tasting with this id, only inside its own workspace, or null. */
export async function findTasting(
  db: DbOrTransaction,
  workspace: string,
  id: number,
): Promise<Tasting | null> {
  const [row] = await byId(db, { workspace, id });
  return row ? toTasting(row) : null;
}

const inStates = prepared<{ readonly workspace: string; readonly states: string }>()((db, given) =>
  withInvited(db)
    .where('workspace', '=', given('workspace'))
    .where(sql<boolean>`state in (select value from json_each(${given('states')}))`)
    .orderBy('starts_at')
    .orderBy('id'),
);

/** Tastings in any of these states, soonest first. */
export async function listTastings(
  db: DbOrTransaction,
  workspace: string,
  states: readonly Tasting['state'][],
): Promise<readonly Tasting[]> {
  const rows = await inStates(db, { workspace, states: JSON.stringify(states) });
  return rows.map(toTasting);
}

/** Cups in table order; dropped ones only when asked for. */
export async function listCups(
  db: DbOrTransaction,
  tastingId: number,
  withDropped = false,
): Promise<readonly Cup[]> {
  const rows = await cupsOf(db, { tastingId });
  return rows.filter((row) => withDropped || row.dropped_at === null).map(toCup);
}

/** The number the workspace's next tasting gets. Call inside the transaction that books it. */
export async function nextTastingNumber(db: DbOrTransaction, workspace: string): Promise<number> {
  const row = await db
    .selectFrom('tasting')
    .select((eb) => eb.fn.max('number').as('last'))
    .where('workspace', '=', workspace)
    .executeTakeFirst();
  return (row?.last ?? 0) + 1;
}

/** Adds a tasting with its invited people; returns its id. */
export async function insertTasting(
  db: DbOrTransaction,
  row: Insertable<TastingTable>,
  invited: readonly string[],
): Promise<number> {
  const { id } = await db.insertInto('tasting').values(row).returning('id').executeTakeFirstOrThrow();
  for (const person of new Set(invited)) {
    await db.insertInto('invited').values({ tasting_id: id, person }).execute();
  }
  return id;
}

export type NewCup = {
  readonly workspace: string;
  readonly tastingId: number;
  readonly position: number;
  readonly label: string;
  readonly code: string | null;
  readonly kind: Cup['kind'];
  readonly parts: readonly CupPart[];
  readonly at: Date;
  readonly by: string;
};

/** Adds a cup; a component holds exactly one coffee. */
export async function insertCup(db: DbOrTransaction, cup: NewCup): Promise<number> {
  const { id } = await db
    .insertInto('cup')
    .values({
      workspace: cup.workspace,
      tasting_id: cup.tastingId,
      position: cup.position,
      label: cup.label,
      code: cup.code,
      kind: cup.kind,
      coffee_id: cup.kind === 'component' ? (cup.parts[0]?.coffeeId ?? null) : null,
      parts_json:
        cup.kind === 'component'
          ? null
          : JSON.stringify(cup.parts.map((part) => ({ coffee: part.coffeeId, parts: part.parts }))),
      scooped: cup.kind === 'pour' ? 1 : 0,
      dropped_at: null,
      created_at: cup.at.toISOString(),
      created_by: cup.by,
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  return id;
}

/** Changes columns of one tasting and keeps who did it and when. */
export async function updateTasting(
  db: DbOrTransaction,
  tasting: Pick<Tasting, 'id'> & { readonly workspace: string },
  values: Partial<Insertable<TastingTable>>,
  change: { readonly who: string; readonly at: Date; readonly change: string; readonly detail?: unknown },
): Promise<void> {
  if (Object.keys(values).length > 0) {
    await db.updateTable('tasting').set(values).where('id', '=', tasting.id).execute();
  }
  await db
    .insertInto('tasting_change')
    .values({
      workspace: tasting.workspace,
      tasting_id: tasting.id,
      at: change.at.toISOString(),
      who: change.who,
      change: change.change,
      detail_json: JSON.stringify(change.detail ?? {}),
    })
    .execute();
}

type TastingRow = Selectable<TastingTable> & { readonly invited_json: string };

function toTasting(row: TastingRow): Tasting {
  return {
    id: row.id,
    number: row.number,
    recipeVersionId: row.recipe_version_id,
    channel: row.channel,
    host: row.host,
    startsAt: new Date(row.starts_at),
    state: State.parse(row.state),
    blind: row.blind === 1,
    format: Format.parse(row.format),
    tables: row.tables,
    seed: row.seed,
    brief: row.brief,
    batchMg: row.batch_mg,
    openedAt: instant(row.opened_at),
    closedAt: instant(row.closed_at),
    decidedAt: instant(row.decided_at),
    winnerCupId: row.winner_cup_id,
    decidedRule: row.decided_rule,
    signedOffBy: row.signed_off_by,
    tallyShown: row.tally_shown === 1,
    invited: People.parse(JSON.parse(row.invited_json)),
  };
}

function toCup(row: Selectable<CupTable>): Cup {
  const parts =
    row.coffee_id === null
      ? Parts.parse(JSON.parse(row.parts_json ?? '[]')).map((part) => ({
          coffeeId: part.coffee,
          parts: part.parts,
        }))
      : [{ coffeeId: row.coffee_id, parts: 1 }];
  return {
    id: row.id,
    tastingId: row.tasting_id,
    position: row.position,
    label: row.label,
    code: row.code,
    kind: Kind.parse(row.kind),
    parts,
    droppedAt: instant(row.dropped_at),
  };
}

function instant(text: string | null): Date | null {
  return text === null ? null : new Date(text);
}

/** Codes of the workspace's latest blind table, so that the next one uses others. */
export async function lastCodes(db: DbOrTransaction, workspace: string): Promise<readonly string[]> {
  const last = await db
    .selectFrom('cup')
    .select((eb) => eb.fn.max('tasting_id').as('id'))
    .where('workspace', '=', workspace)
    .where('code', 'is not', null)
    .executeTakeFirst();
  if (!last?.id) return [];
  const rows = await db.selectFrom('cup').select('code').where('tasting_id', '=', last.id).execute();
  return rows.flatMap((row) => row.code ?? []);
}

/** Who cancelled a tasting, or null. */
export async function cancelledBy(db: DbOrTransaction, tastingId: number): Promise<string | null> {
  const row = await db
    .selectFrom('tasting_change')
    .select('who')
    .where('tasting_id', '=', tastingId)
    .where('change', '=', 'cancelled')
    .orderBy('id', 'desc')
    .executeTakeFirst();
  return row?.who ?? null;
}
