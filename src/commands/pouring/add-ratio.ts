import { sameRatio } from '../../domain/ratio/parts.js';
import { may } from '../../domain/record/permission.js';
import { partsInRecipeOrder, ratioCups, type TableSetting } from '../../domain/record/table-setting.js';
import { type Cup, cupName, hasNotBegun, tastingName } from '../../domain/record/tasting.js';
import { doseFor } from '../../domain/table/dose.js';
import { cupLabel, drawCodes, ratioParts } from '../../domain/table/lay-cups.js';
import {
  type BowlState,
  type Pour,
  planPour,
  pouredAlready,
  spoonfulsTasted,
} from '../../domain/table/pour.js';
import { UserError } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import { insertCup, lastCodes, listCups } from '../../store/cups.js';
import { type Db, inTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listNotes } from '../../store/notes.js';
import { updateTasting } from '../../store/tastings.js';
import type { Deps } from '../common/bot.js';
import type { Who } from '../common/intake.js';
import { loadTable } from '../common/load-table.js';
import { requireMay, standingOf } from '../common/standing.js';
import { isHidden } from '../common/table-view.js';
import { planTableRoasts } from '../planning/plan-roasts.js';

const MOST_CUPS = 24;

/**
 * Adds a ratio to a table: weighed like the others before it opens, poured together from the brewed
 * components once it is open.
 */
export async function addRatio(
  deps: Deps,
  who: Who,
  table: TableSetting,
  ratio: readonly number[],
): Promise<Cup> {
  const now = deps.clock.now();
  const { tasting, recipe } = table;
  const house = await loadHouse(deps.db, who.workspace);
  const standing = standingOf(who.person, house, { tasting });
  requireMay('pour', standing, tasting);
  const seesCodes = !isHidden(table) || may('see codes', standing);
  if (!hasNotBegun(tasting) && tasting.state !== 'open') {
    throw new UserError(
      `${tastingName(tasting)} is ${tasting.state}, so no cup can be added.`,
      tasting.state === 'closed' ? `Reopen it first: \`/spoon table ${tastingName(tasting)} reopen\`` : null,
    );
  }
  const parts = ratioParts(recipe.parts, ratio);
  return inTransaction(deps.db, async (trx) => {
    const { cups } = await loadTable(trx, who.workspace, tasting);
    const same = ratioCups(cups).find((cup) => sameRatio(partsInRecipeOrder(cup, recipe), ratio));
    if (same)
      throw new UserError(
        seesCodes
          ? `Cup ${cupName(same)} holds that ratio already.`
          : 'That ratio stands on the table already.',
        'Taste that one, or try another ratio.',
        'ratio',
      );
    if (cups.length >= MOST_CUPS)
      throw new UserError(
        `There are ${cups.length} cups on the table already.`,
        'Close this table and book another for more ratios.',
      );
    const poured = tasting.state === 'open';
    const place = await nextPlace(trx, who.workspace, tasting.id, tasting.blind, tasting.seed);
    const id = await insertCup(trx, {
      workspace: who.workspace,
      tastingId: tasting.id,
      ...place,
      kind: poured ? 'pour' : 'ratio',
      parts,
      at: now,
      by: who.person,
    });
    await updateTasting(
      trx,
      { id: tasting.id, workspace: who.workspace },
      {},
      { who: who.person, at: now, change: poured ? 'poured' : 'added a ratio', detail: { cup: id } },
    );
    if (!poured) await planTableRoasts(trx, { workspace: who.workspace, now, who: who.person }, tasting.id);
    await markChanged(trx, who.workspace, `tasting:${tasting.id}`, now);
    const added = (await listCups(trx, tasting.id)).find((cup) => cup.id === id);
    if (!added) throw new Error(`cup ${id} was added and is gone`);
    return added;
  });
}

/** Places, letters and codes are never used again on a table, so that old notes keep their cup. */
async function nextPlace(trx: Db, workspace: string, tastingId: number, blind: boolean, seed: number) {
  const all = await listCups(trx, tastingId, true);
  const position = all.reduce((last, cup) => Math.max(last, cup.position + 1), 0);
  const label = cupLabel(position);
  if (!blind) return { position, label, code: null };
  const onTable = all.flatMap((cup) => cup.code ?? []);
  const [code] = drawCodes(1, await lastCodes(trx, workspace), seed + position, onTable);
  return { position, label, code: code ?? null };
}

/**
 * How to spoon a cup together now, and whether enough is left: each coffee's bowls, less what the tasters had
 * and what earlier pours of this table took, also those that were taken off it again.
 */
export async function planPourAt(
  db: Db,
  workspace: string,
  { tasting, cups }: TableSetting,
  cup: Cup,
): Promise<Pour> {
  const house = await loadHouse(db, workspace);
  const tasters = await tastersAt(db, tasting);
  const dose = doseFor(tasting.format, tasting.invited.length, house, tasting.tables);
  const all = await listCups(db, tasting.id, true);
  const earlier = all.filter((one) => one.kind === 'pour' && one.id !== cup.id).map((one) => one.parts);
  const poured = pouredAlready(earlier, tasters, house.scoopTolerancePoints);
  const alone = cups.filter((one) => one.kind === 'component');
  const bowls = cup.parts.map(({ coffeeId }): BowlState => {
    const stands = alone.some((one) => one.parts[0]?.coffeeId === coffeeId);
    return {
      vessels: stands ? dose.vessels * tasting.tables : 0,
      waterMl: dose.waterMl,
      doseMg: dose.doseMg,
      spoonfulsTaken: spoonfulsTasted(tasting.format, tasters, house.serveMl),
      pouredMl: poured.get(coffeeId) ?? 0,
    };
  });
  const parts = cup.parts.map((part) => part.parts);
  return planPour(parts, bowls, tasters, house.scoopTolerancePoints);
}

/** Who is at the table: those who have written, else those who were invited; somebody always is. */
async function tastersAt(db: Db, tasting: TableSetting['tasting']): Promise<number> {
  const writers = new Set((await listNotes(db, tasting.id)).map((note) => note.person));
  return Math.max(1, writers.size > 0 ? writers.size : tasting.invited.length);
}
