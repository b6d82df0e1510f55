import type { HouseFacts } from '../../domain/house/house-facts.js';
import { type ProductionPlan, productionNote } from '../../domain/production/production-note.js';
import { cupById, productionPlan } from '../../domain/record/table-result.js';
import { cupRatio, type TableSetting } from '../../domain/record/table-setting.js';
import { tastingName, USUAL_BATCH_MG } from '../../domain/record/tasting.js';
import { KindRefusal } from '../../runtime/errors.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { requireTableAt } from '../common/load-table.js';
import type { Who } from '../common/who.js';
import { measuredLosses } from './table-losses.js';

/** A decided table with a winner, and the plan of its production note. */
export type Decided = {
  readonly setting: TableSetting;
  readonly house: HouseFacts;
  readonly plan: ProductionPlan;
  /** "Harbour Lamp 2:1:1". */
  readonly blend: string;
};

/** @throws {KindRefusal} when the tasting is gone, has no winner yet, or is not for somebody who asks here */
export async function requireDecided(
  db: DbOrTransaction,
  who: Who,
  channel: string | null,
  tastingId: number,
): Promise<Decided> {
  const { workspace } = who;
  const setting = await requireTableAt(db, who, channel, tastingId);
  const { tasting, recipe, coffees } = setting;
  const winner = tasting.winnerCupId === null ? undefined : cupById(setting, tasting.winnerCupId);
  if (tasting.state !== 'decided' || !winner)
    throw new KindRefusal(
      'not now',
      `${tastingName(tasting)} has no winner yet.`,
      `Decide it first: \`/spoon digest ${tastingName(tasting)}\``,
    );
  const measured = await measuredLosses(db, workspace, recipe, coffees);
  const batchMg = tasting.batchMg ?? USUAL_BATCH_MG;
  return {
    setting,
    house: await loadHouse(db, workspace),
    plan: productionPlan(winner, setting, batchMg, tasting.signedOffBy, measured),
    blend: `${recipe.name} ${cupRatio(winner, recipe)}`,
  };
}

/** The production note of a decided table as it would be written now. */
export function noteOf({ plan, house }: Decided) {
  return productionNote(plan, house);
}
