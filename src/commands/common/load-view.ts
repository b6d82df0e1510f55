import type { TableSetting } from '../../domain/record/table-setting.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { countAfterClosing, countNotes } from '../../store/notes.js';
import { stoppedOf } from '../../store/notices.js';
import { listFiredKeys } from '../../store/reminders.js';
import { cancelledBy } from '../../store/tastings.js';
import { loadReadiness } from '../planning/load-plan.js';
import type { TableView } from './table-view.js';

/** Everything the messages about one table are made from. */
export async function loadView(
  db: DbOrTransaction,
  workspace: string,
  setting: TableSetting,
  now: Date,
): Promise<TableView> {
  const { tasting } = setting;
  const notBegun = tasting.state === 'booked' || tasting.state === 'ready';
  const coffees = notBegun ? (await loadReadiness(db, workspace, tasting, now)).coffees : [];
  const pending = coffees.flatMap(({ ask }) => (ask && ask.state !== 'roasted' ? [ask.roaster] : []));
  return {
    ...setting,
    house: await loadHouse(db, workspace),
    readiness: coffees.map(({ name, state, said }) => ({ name, there: state === 'on the shelf', said })),
    asked: [...new Set(pending)],
    counts: await countNotes(db, tasting.id),
    afterClosing: tasting.closedAt === null ? 0 : await countAfterClosing(db, tasting.id, tasting.closedAt),
    fired: await listFiredKeys(db, workspace, `tasting:${tasting.id}`),
    stopped: await stoppedMessages(db, workspace, tasting.id),
    cancelledBy: tasting.state === 'cancelled' ? await cancelledBy(db, tasting.id) : null,
  };
}

async function stoppedMessages(
  db: DbOrTransaction,
  workspace: string,
  tastingId: number,
): Promise<TableView['stopped']> {
  const { stopped, told } = await stoppedOf(db, workspace, `tasting:${tastingId}`, `stopped:${tastingId}`);
  if (stopped.length === 0 && !told) return null;
  return { errors: [...new Set(stopped.map((notice) => notice.error ?? 'unknown'))] };
}
