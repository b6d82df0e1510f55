import type { KnownBlock } from '@slack/types';
import { percentages } from '../../domain/ratio/parts.js';
import { coffeeName, cupContents } from '../../domain/record/table-setting.js';
import { type Cup, cupName, tastingName } from '../../domain/record/tasting.js';
import { button, buttons, context, section } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';
import { isHidden, type TableView } from '../common/table-view.js';

/** One cup's card: the thread under it is about this cup. */
export function cupCard(cup: Cup, view: TableView): Message {
  const table = tastingName(view.tasting);
  const name = cupName(cup);
  const contents = isHidden(view) ? '' : ` · ${mrkdwn(cupContents(cup, view))}`;
  const blocks: KnownBlock[] = [section(`*Cup ${name}*${contents}`)];
  if (!isHidden(view)) blocks.push(...made(cup, view));
  if (view.tasting.state === 'open') {
    blocks.push(
      context(`${table} · Reply here with what you taste in this cup.`),
      ...buttons(button('Write a note', 'note.form', { tasting: view.tasting.id, cup: cup.id })),
    );
  } else blocks.push(context(`${table} · ${view.tasting.state === 'cancelled' ? 'cancelled' : 'closed'}`));
  const spoken = isHidden(view) ? '' : `, ${mrkdwn(cupContents(cup, view))}`;
  return { text: `Cup ${name}${spoken}. Reply in this thread with what you taste.`, blocks };
}

function made(cup: Cup, view: TableView): readonly KnownBlock[] {
  if (cup.kind === 'component') {
    const coffee = view.coffees.get(cup.parts[0]?.coffeeId ?? 0);
    const facts = [coffee?.origin, coffee?.process, coffee?.role].filter(
      (fact) => fact !== null && fact !== undefined,
    );
    return facts.length > 0 ? [context(mrkdwn(facts.join(', ')))] : [];
  }
  const shares = percentages(
    cup.parts.map((part) => part.parts),
    1,
  );
  const line = cup.parts
    .map((part, index) => `${mrkdwn(coffeeName(view.coffees, part.coffeeId))} ${shares[index] ?? 0} %`)
    .join(', ');
  const poured = cup.kind === 'pour' ? ' Spooned together at the table: a preview, not a weighed blend.' : '';
  return [context(`${line}.${poured}`)];
}
