import { may } from '../domain/record/permission.js';
import type { TableSetting } from '../domain/record/table-setting.js';
import { tastingName } from '../domain/record/tasting.js';
import { tableSheet } from '../domain/table/table-sheet.js';
import type { SheetView } from '../notices/table-sheet.js';
import type { DbOrTransaction } from '../store/db.js';
import { loadHouse } from '../store/house.js';
import { standingOf } from './standing.js';
import type { Who } from './who.js';

/** The table sheet as this person may see it; tasters are named by mention. */
export async function loadSheet(db: DbOrTransaction, who: Who, setting: TableSetting): Promise<SheetView> {
  const house = await loadHouse(db, who.workspace);
  const { tasting } = setting;
  const standing = standingOf(who.person, house, { tasting });
  const notBegun = tasting.state === 'booked' || tasting.state === 'ready';
  const hidden = tasting.blind && (notBegun || tasting.state === 'open');
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
      poursToCome: notBegun ? 1 : 0,
    },
    house,
  );
  return {
    tastingId: tasting.id,
    sheet,
    units: house.unitSystem,
    open: !hidden || may('see codes', standing),
    canOpenTable: notBegun && may('open table', standing),
  };
}
