import type { KnownBlock } from '@slack/types';
import { z } from 'zod';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { hasNotBegun } from '../../domain/record/tasting.js';
import type { Message, Notice, PictureSpec } from '../../kit/notice.js';
import type { Db } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { countAfterClosing, countNotes } from '../../store/notes.js';
import { stoppedOf } from '../../store/notices.js';
import { countErased } from '../../store/own-data.js';
import { listReminderKeys } from '../../store/reminders.js';
import { cancelledBy, findDigest, latestPrint } from '../../store/tasting-records.js';
import { findTasting } from '../../store/tastings.js';
import type { Deps } from '../common/bot.js';
import { loadTable } from '../common/load-table.js';
import { loadResult } from '../common/table-notes.js';
import type { TableView } from '../common/table-view.js';
import { loadReadiness } from '../planning/load-plan.js';
import { besideTable } from '../tallying/panel.js';
import { tallyPicture } from '../tallying/tally-messages.js';
import { sheetFileNotice } from './table-sheet-messages.js';
import { erasedNotices, tastingNotices } from './tasting-notices.js';

/** Notices of a tasting, from its state alone. */
export async function noticesOfTasting(
  deps: Deps,
  workspace: string,
  tastingId: number,
): Promise<readonly Notice[]> {
  const tasting = await findTasting(deps.db, workspace, tastingId);
  if (!tasting) return [];
  const setting = await loadTable(deps.db, workspace, tasting);
  const view = await loadView(deps.db, workspace, setting, deps.clock.now());
  const shown = tasting.tallyShown || tasting.state === 'closed' || tasting.state === 'decided';
  const result = shown && tasting.openedAt !== null ? await loadResult(deps.db, workspace, setting) : null;
  const print = await latestPrint(deps.db, tastingId);
  const { closedAt } = tasting;
  const notices = tastingNotices({
    view,
    result,
    tallyPicture: result && tallyPicture(setting, result),
    ...(await postedDigest(deps.db, tastingId)),
  });
  return [
    ...notices,
    ...(result ? besideTable(setting, result) : []),
    ...erasedNotices(tasting, closedAt === null ? 0 : await countErased(deps.db, tastingId, closedAt)),
    ...(print ? [sheetFileNotice(tasting, print)] : []),
  ];
}

/** The stored digest was checked against Slack's limits when it was made. */
async function postedDigest(
  db: Db,
  tastingId: number,
): Promise<{ readonly digest: Message | null; readonly digestPicture: PictureSpec | null }> {
  const stored = await findDigest(db, tastingId);
  if (!stored) return { digest: null, digestPicture: null };
  const blocks = z.array(z.custom<KnownBlock>(isBlock)).parse(stored.blocks);
  return { digest: { text: stored.text, blocks }, digestPicture: stored.picture ?? null };
}

function isBlock(value: unknown): boolean {
  return typeof value === 'object' && value !== null && 'type' in value;
}

/** Everything the messages about one table are made from. */
export async function loadView(
  db: Db,
  workspace: string,
  setting: TableSetting,
  now: Date,
): Promise<TableView> {
  const { tasting } = setting;
  const coffees = hasNotBegun(tasting) ? (await loadReadiness(db, workspace, tasting, now)).coffees : [];
  const pending = coffees.flatMap(({ ask }) => (ask && ask.state !== 'roasted' ? [ask.roaster] : []));
  return {
    ...setting,
    house: await loadHouse(db, workspace),
    readiness: coffees.map(({ name, state, said }) => ({ name, there: state === 'on the shelf', said })),
    asked: [...new Set(pending)],
    counts: await countNotes(db, tasting.id),
    afterClosing: tasting.closedAt === null ? 0 : await countAfterClosing(db, tasting.id, tasting.closedAt),
    fired: await listReminderKeys(db, workspace, `tasting:${tasting.id}`, 'fired'),
    stopped: await stoppedMessages(db, workspace, tasting.id),
    cancelledBy: tasting.state === 'cancelled' ? await cancelledBy(db, tasting.id) : null,
  };
}

async function stoppedMessages(db: Db, workspace: string, tastingId: number): Promise<TableView['stopped']> {
  const { stopped, told } = await stoppedOf(db, workspace, `tasting:${tastingId}`, `stopped:${tastingId}`);
  if (stopped.length === 0 && !told) return null;
  return { errors: [...new Set(stopped.map((notice) => notice.error ?? 'unknown'))] };
}
