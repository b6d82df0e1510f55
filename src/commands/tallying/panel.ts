import { attributeAgreement } from '../../domain/panel/agreement.js';
import { placingsBesideTable, tastersBesideTable } from '../../domain/panel/beside-table.js';
import { isOnPaper } from '../../domain/record/note.js';
import { ratioCups, type TableSetting } from '../../domain/record/table-setting.js';
import { tastingName } from '../../domain/record/tasting.js';
import type { TableResult } from '../../domain/result/table-result.js';
import { latestWords } from '../../domain/tally/counted.js';
import type { Notice } from '../../kit/notice.js';
import { UserError } from '../../runtime/errors.js';
import type { Answer, Deps } from '../common/bot.js';
import type { Tap } from '../common/intake.js';
import { requireTableAt } from '../common/load-table.js';
import { loadResult } from '../common/table-notes.js';
import { besideNotices, numbersPage } from './panel-messages.js';

/** The numbers behind a digest, for anyone at the table who taps for them once it is closed. */
export async function showNumbers(
  deps: Deps,
  { who, channel }: Pick<Tap, 'who' | 'channel'>,
  tastingId: number,
): Promise<Answer> {
  const setting = await requireTableAt(deps.db, who, channel, tastingId);
  const { tasting } = setting;
  if (tasting.state !== 'closed' && tasting.state !== 'decided')
    throw new UserError(
      `${tastingName(tasting)} is ${tasting.state}: its numbers are shown once it is closed.`,
    );
  const result = await loadResult(deps.db, who.workspace, setting);
  const agreement = attributeAgreement(latestWords(result.counted), cupIds(setting));
  return { form: numbersPage(setting, result, agreement) };
}

/** Who wrote less has too little to set beside the table. */
const FEWEST_MENTIONS = 3;

/** What each taster is told alone once the table is decided. */
export function besideTable(setting: TableSetting, result: TableResult): readonly Notice[] {
  if (setting.tasting.state !== 'decided') return [];
  const mentionsOf = (taster: string) =>
    result.counted.reduce((sum, note) => sum + (note.taster === taster ? note.mentions.length : 0), 0);
  const ratios = ratioCups(setting.cups).map(({ id }) => String(id));
  return besideNotices(
    setting,
    tastersBesideTable(cupIds(setting), result.counted).filter(
      ({ taster }) => !isOnPaper(taster) && mentionsOf(taster) >= FEWEST_MENTIONS,
    ),
    placingsBesideTable(ratios, result.counted, result.placings),
  );
}

function cupIds({ cups }: TableSetting): readonly string[] {
  return cups.map(({ id }) => String(id));
}
