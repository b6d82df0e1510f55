import { may } from '../../domain/record/permission.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { tastingName } from '../../domain/record/tasting.js';
import { POURS_TO_COME } from '../../domain/roast/need.js';
import type { RoastDays } from '../../domain/table/roast-ages.js';
import { tableSheet } from '../../domain/table/table-sheet.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listLots } from '../../store/lots.js';
import { listReservationsOf } from '../../store/reservations.js';
import { standingOf } from '../common/standing.js';
import { isHidden } from '../common/table-view.js';
import type { Who } from '../common/who.js';
import type { SheetView } from './table-sheet-message.js';

/** The table sheet as this person may see it; tasters are named by mention. */
export async function loadSheet(db: DbOrTransaction, who: Who, setting: TableSetting): Promise<SheetView> {
  const house = await loadHouse(db, who.workspace);
  const { tasting } = setting;
  const standing = standingOf(who.person, house, { tasting });
  const notBegun = tasting.state === 'booked' || tasting.state === 'ready';
  const sheet = tableSheet(
    {
      name: tastingName(tasting),
      blendName: setting.recipe.name,
      host: `<@${tasting.host}>`,
      start: tasting.startsAt,
      format: tasting.format,
      blind: tasting.blind,
      tables: tasting.tables,
      seed: tasting.seed,
      tasters: tasting.invited.map((person) => `<@${person}>`),
      cups: setting.cups,
      coffees: [...setting.coffees.values()],
      poursToCome: POURS_TO_COME,
      roasted: await roastDaysOf(db, who.workspace, tasting.id),
    },
    house,
  );
  return {
    tastingId: tasting.id,
    sheet,
    units: house.unitSystem,
    open: !isHidden(setting) || may('see codes', standing),
    canOpenTable: notBegun && may('open table', standing),
  };
}

/** When the coffee that a table holds on the shelf was roasted; nothing once it has been used. */
async function roastDaysOf(
  db: DbOrTransaction,
  workspace: string,
  tastingId: number,
): Promise<readonly RoastDays[]> {
  const lots = new Map((await listLots(db, workspace)).map((lot) => [lot.id, lot]));
  return (await listReservationsOf(db, tastingId)).flatMap(({ lotId }) => {
    const lot = lots.get(lotId);
    return lot ? [{ coffeeId: lot.coffeeId, days: [lot.roastedOn] }] : [];
  });
}
