import { z } from 'zod';
import { ASK_STATES, type AskState } from '../domain/record/ask.js';
import type { DbOrTransaction } from './db.js';

const State = z.enum(ASK_STATES);

/** What a change of an ask was about; everything is optional because each kind of change says its own part. */
export const AskDetail = z.object({
  /** Which change it was: 'asked', 'joined', 'accept', 'offer', 'agree', 'decline', 'grams' … */
  what: z.string(),
  /** Grams that a person wants without a tasting, from now on (0: none). */
  free: z.object({ person: z.string(), mg: z.number().int().nonnegative() }).optional(),
  /** The day that was asked for or offered. */
  day: z.string().optional(),
  /** The asked day that the roaster offered another one for. */
  notOn: z.string().optional(),
  /** The roaster's or the bot's reason, in words. */
  because: z.string().nullable().optional(),
  /** Green to charge before and after, when the amount changed. */
  greenMg: z.tuple([z.number().int(), z.number().int()]).optional(),
  /** Which reminder came, for `what: 'reminded'`. */
  kind: z.string().optional(),
  /** The tasting that was put on the ask or taken off it. */
  tasting: z.number().int().optional(),
});
export type AskDetail = z.output<typeof AskDetail>;

/** One entry of an ask's history, the oldest first in lists. */
export type AskChanged = {
  readonly id: number;
  readonly at: Date;
  readonly who: string;
  readonly from: AskState | null;
  readonly to: AskState;
  readonly detail: AskDetail;
};

/** Who changed an ask, when, and what it was about. */
export type HistoryEntry = { readonly who: string; readonly at: Date; readonly detail: AskDetail };

/**
 * Roast days of a coffee for which a tasting must not ask again by itself: the roaster declined or offered
 * another day instead, or a person took the tasting off the ask. By tasting.
 */
export async function listRefusedDays(
  db: DbOrTransaction,
  workspace: string,
  coffeeId: number,
): Promise<ReadonlyMap<number, ReadonlySet<string>>> {
  const declined = await db
    .selectFrom('ask')
    .innerJoin('ask_for', 'ask_for.ask_id', 'ask.id')
    .select(['ask_for.tasting_id', 'roast_day'])
    .where('workspace', '=', workspace)
    .where('coffee_id', '=', coffeeId)
    .where('state', '=', 'declined')
    .execute();
  const changes = await db
    .selectFrom('ask_change')
    .innerJoin('ask', 'ask.id', 'ask_change.ask_id')
    .select(['ask.id', 'ask_change.detail_json'])
    .where('ask.workspace', '=', workspace)
    .where('ask.coffee_id', '=', coffeeId)
    .orderBy('ask_change.id')
    .execute();
  const refused = new Map<number, Set<string>>();
  const refuse = (tastingId: number, day: string) =>
    refused.set(tastingId, (refused.get(tastingId) ?? new Set()).add(day));
  for (const row of declined) refuse(row.tasting_id, row.roast_day);
  const tables = new Map<number, Set<number>>();
  for (const { id, detail_json } of changes) {
    const { what, tasting, day, notOn } = AskDetail.parse(JSON.parse(detail_json));
    if (tasting !== undefined) tables.set(id, (tables.get(id) ?? new Set()).add(tasting));
    if (what === 'left' && tasting !== undefined && day) refuse(tasting, day);
    if (notOn) for (const tastingId of tables.get(id) ?? []) refuse(tastingId, notOn);
  }
  return refused;
}

/** The history of one ask, the oldest first. */
export async function listAskChanges(
  db: DbOrTransaction,
  workspace: string,
  askId: number,
): Promise<readonly AskChanged[]> {
  const rows = await db
    .selectFrom('ask_change')
    .selectAll()
    .where('workspace', '=', workspace)
    .where('ask_id', '=', askId)
    .orderBy('id')
    .execute();
  return rows.map((row) => ({
    id: row.id,
    at: new Date(row.at),
    who: row.who,
    from: row.from_state === null ? null : State.parse(row.from_state),
    to: State.parse(row.to_state),
    detail: AskDetail.parse(JSON.parse(row.detail_json)),
  }));
}

/** Keeps one change of an ask. Call it in the transaction that makes the change. */
export async function keepChange(
  db: DbOrTransaction,
  workspace: string,
  askId: number,
  from: AskState | null,
  to: AskState,
  change: HistoryEntry,
): Promise<void> {
  await db
    .insertInto('ask_change')
    .values({
      workspace,
      ask_id: askId,
      at: change.at.toISOString(),
      who: change.who,
      from_state: from,
      to_state: to,
      detail_json: JSON.stringify(AskDetail.parse(change.detail)),
    })
    .execute();
}
