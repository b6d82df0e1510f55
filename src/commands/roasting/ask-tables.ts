import type { HouseFacts } from '../../domain/house/house-facts.js';
import type { RestDays } from '../../domain/house/rest-window.js';
import { tastingName } from '../../domain/record/tasting.js';
import { chooseRoastDay, type FittingStart, nearestStarts } from '../../domain/roast/roast-day.js';
import { restState } from '../../domain/roast/shelf.js';
import type { LocalDay } from '../../domain/when/local-day.js';
import { type AskChanged, listRefusedDays } from '../../store/ask-history.js';
import type { StoredAsk } from '../../store/asks.js';
import type { DbOrTransaction } from '../../store/db.js';
import { findTasting } from '../../store/tastings.js';
import { loadTable } from '../common/load-table.js';
import { readinessOf } from '../planning/plan-roasts-ready.js';
import { type TableNeed, tableNeed } from '../planning/plan-roasts-supply.js';
import { startsForRoast } from './ask-dates.js';
import { nearestOnShelf } from './ask-nearest.js';
import type { AskTable } from './ask-view-message.js';

/** The tables behind an ask, those it was for and is no longer among them (with nothing wanted). */
export async function loadAskTables(
  db: DbOrTransaction,
  workspace: string,
  ask: StoredAsk,
  changes: readonly AskChanged[],
  house: HouseFacts,
  now: Date,
): Promise<readonly AskTable[]> {
  const wanted = new Map(ask.wanted.map((entry) => [entry.tastingId, entry.mg]));
  const ids = new Set([...wanted.keys(), ...changes.flatMap((change) => change.detail.tasting ?? [])]);
  const tables: AskTable[] = [];
  for (const id of [...ids].sort((a, b) => a - b)) {
    const table = await askTable(db, workspace, ask, id, wanted.get(id) ?? 0, house, now);
    if (table) tables.push(table);
  }
  return tables;
}

async function askTable(
  db: DbOrTransaction,
  workspace: string,
  ask: StoredAsk,
  tastingId: number,
  mg: number,
  house: HouseFacts,
  now: Date,
): Promise<AskTable | null> {
  const tasting = await findTasting(db, workspace, tastingId);
  if (!tasting) return null;
  const table = tableNeed(await loadTable(db, workspace, tasting), house);
  const rest = table.rests.get(ask.coffeeId) ?? null;
  const ahead = tasting.state === 'booked' || tasting.state === 'ready';
  const offerFits = ask.offeredDay === null || !rest ? null : fits(ask.offeredDay, rest, table.tableDay);
  const refused = await listRefusedDays(db, workspace, tastingId, ask.coffeeId);
  const shown = {
    tastingId,
    name: tastingName(tasting),
    recipe: table.setting.recipe.name,
    host: tasting.host,
    startsAt: tasting.startsAt,
    mg,
    offerFits,
    ahead,
  };
  const troubled = offerFits === false || ['declined', 'missed', 'withdrawn'].includes(ask.state);
  if (!ahead || !rest || !troubled)
    return { ...shown, dates: [], nearest: null, canAskAgain: false, served: !ahead };
  const readiness = await readinessOf(db, workspace, tasting, now);
  return {
    ...shown,
    dates: datesFor(ask, table, rest, refused, house, now),
    nearest: await nearestOnShelf(db, workspace, table, ask.coffeeId, house),
    canAskAgain: chooseRoastDay(now, tasting.startsAt, rest, house).ok,
    served: !readiness.stuck.some((coffee) => coffee.coffeeId === ask.coffeeId),
  };
}

function fits(day: LocalDay, rest: RestDays, tableDay: LocalDay): boolean {
  return restState({ roastedOn: day, bestBy: null }, rest, tableDay) === 'good';
}

/** Starts that fit the day on offer, or any roast day that nobody refused. */
function datesFor(
  ask: StoredAsk,
  table: TableNeed,
  rest: RestDays,
  refused: ReadonlySet<LocalDay>,
  house: HouseFacts,
  now: Date,
): readonly FittingStart[] {
  const { startsAt } = table.setting.tasting;
  if (ask.state === 'offered' && ask.offeredDay !== null) {
    return startsForRoast(ask.offeredDay, startsAt, rest, house, now);
  }
  const closed = [...refused].map((day) => ({ day, name: 'refused' }));
  return nearestStarts(now, startsAt, [rest], { ...house, closedDays: [...house.closedDays, ...closed] });
}
