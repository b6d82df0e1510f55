import type { TableSetting } from '../../domain/record/table-setting.js';
import type { Cup } from '../../domain/record/tasting.js';
import { doseFor } from '../../domain/table/dose.js';
import {
  type BowlState,
  type Pour,
  planPour,
  pouredAlready,
  spoonfulsTasted,
} from '../../domain/table/pour.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listNotes } from '../../store/notes.js';
import { listCups } from '../../store/tastings.js';

/**
 * How to spoon a cup together now, and whether enough is left: each coffee's bowls, less what the tasters had
 * and what earlier pours of this table took, also those that were taken off it again.
 */
export async function planPourAt(
  db: DbOrTransaction,
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
async function tastersAt(db: DbOrTransaction, tasting: TableSetting['tasting']): Promise<number> {
  const writers = new Set((await listNotes(db, tasting.id)).map((note) => note.person));
  return Math.max(1, writers.size > 0 ? writers.size : tasting.invited.length);
}
