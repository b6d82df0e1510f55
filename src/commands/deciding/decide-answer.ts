import { cupById } from '../../domain/record/table-result.js';
import { cupRatio } from '../../domain/record/table-setting.js';
import { tastingName } from '../../domain/record/tasting.js';
import { button, buttons, say } from '../../kit/blocks.js';
import type { Message } from '../../kit/message.js';
import type { Deps } from '../common/deps.js';
import { requireTable } from '../common/load-table.js';
import type { Who } from '../common/who.js';

/** What the host hears after deciding; a poured winner has to be weighed and cupped next. */
export async function decidedMessage(deps: Deps, who: Who, tastingId: number): Promise<Message> {
  const setting = await requireTable(deps.db, who.workspace, tastingId);
  const { tasting, recipe } = setting;
  const done = `*${tastingName(tasting)}* is decided. The digest stands in <#${tasting.channel}>.`;
  const winner = tasting.winnerCupId === null ? undefined : cupById(setting, tasting.winnerCupId);
  if (winner?.kind !== 'pour') return say(done);
  return say(
    `${done}\n${cupRatio(winner, recipe)} was only poured so far. Before production roasts it, weigh it as a blend and cup it.`,
    ...buttons(
      button('Book it as a weighed blend', 'pour.book', { tasting: tasting.id }, { style: 'primary' }),
    ),
  );
}
