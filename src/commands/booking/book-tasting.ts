import type { RatioComponent } from '../../domain/ratio/parse-ratio.js';
import type { Recipe } from '../../domain/record/recipe.js';
import { type TableFormat, tastingName } from '../../domain/record/tasting.js';
import { layCups } from '../../domain/table/lay-cups.js';
import { UserError } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import { coffeesById } from '../../store/coffees.js';
import { insertCup, lastCodes } from '../../store/cups.js';
import { type Db, inTransaction } from '../../store/db.js';
import { insertTasting, nextTastingNumber, updateTasting } from '../../store/tastings.js';
import type { Deps } from '../common/bot.js';
import { syncTastingReminders } from '../common/change-tasting.js';
import type { Who } from '../common/intake.js';
import type { TableReadiness } from '../planning/load-plan.js';
import { planTableRoasts } from '../planning/plan-roasts.js';

/** A booking with nothing missing. */
export type Booking = {
  readonly recipe: Recipe;
  readonly at: Date;
  readonly ratios: readonly (readonly number[])[];
  readonly channel: string;
  readonly people: readonly string[];
  readonly blind: boolean;
  readonly format: TableFormat;
  readonly tables: number;
  readonly brief: string | null;
};

export type Booked = {
  readonly tastingId: number;
  readonly name: string;
  readonly cups: number;
  readonly plan: TableReadiness;
};

/** Books a tasting in one unit: its cups, its people, its roast asks and its reminders. */
export async function bookTasting(deps: Deps, who: Who, booking: Booking): Promise<Booked> {
  const now = deps.clock.now();
  const seed = deps.newSeed();
  return inTransaction(deps.db, async (trx) => {
    const number = await nextTastingNumber(trx, who.workspace);
    const at = now.toISOString();
    const tastingId = await insertTasting(
      trx,
      {
        workspace: who.workspace,
        number,
        recipe_version_id: booking.recipe.versionId,
        channel: booking.channel,
        host: who.person,
        starts_at: booking.at.toISOString(),
        state: 'booked',
        blind: booking.blind ? 1 : 0,
        format: booking.format,
        tables: booking.tables,
        seed,
        brief: booking.brief,
        batch_mg: null,
        opened_at: null,
        closed_at: null,
        decided_at: null,
        winner_cup_id: null,
        decided_rule: null,
        signed_off_by: null,
        created_at: at,
        created_by: who.person,
      },
      booking.people,
    );
    const cups = await setCups(trx, who, tastingId, booking, seed, now);
    await updateTasting(
      trx,
      { id: tastingId, workspace: who.workspace },
      {},
      { who: who.person, at: now, change: 'booked' },
    );
    const plan = await planTableRoasts(trx, { workspace: who.workspace, now, who: who.person }, tastingId);
    await syncTastingReminders(trx, who.workspace, tastingId, now);
    await markChanged(trx, who.workspace, `tasting:${tastingId}`, now);
    return { tastingId, name: tastingName({ number }), cups, plan };
  });
}

async function setCups(
  trx: Db,
  who: Who,
  tastingId: number,
  booking: Booking,
  seed: number,
  now: Date,
): Promise<number> {
  const cups = layCups({
    recipe: booking.recipe.parts,
    ratios: booking.ratios,
    blind: booking.blind,
    seed,
    takenCodes: await lastCodes(trx, who.workspace),
  });
  for (const cup of cups) {
    await insertCup(trx, { workspace: who.workspace, tastingId, ...cup, at: now, by: who.person });
  }
  return cups.length;
}

/** A tasting lives in a channel: the one it is booked in, or the house's when booked from direct messages. */
export function bookingChannel(typedIn: string, houseChannel: string | null): string {
  if (typedIn !== '' && !typedIn.startsWith('D')) return typedIn;
  if (houseChannel !== null) return houseChannel;
  throw new UserError(
    'A tasting is booked in the channel where its people are.',
    'Type `/spoon book` there, or set the house channel: `/spoon house channel #tasting-table`',
  );
}

/** The blend's coffees in recipe order, as ratios may name them. */
export async function recipeComponents(
  db: Db,
  workspace: string,
  recipe: Recipe,
): Promise<readonly RatioComponent[]> {
  const coffees = await coffeesById(
    db,
    workspace,
    recipe.parts.map((part) => part.coffeeId),
  );
  return recipe.parts.map(({ coffeeId }) => {
    const coffee = coffees.get(coffeeId);
    return { name: coffee?.name ?? '?', origin: coffee?.origin ?? null };
  });
}
