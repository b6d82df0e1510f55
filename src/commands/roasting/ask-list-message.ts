import { counted } from '../../domain/measure/plain-list.js';
import { button, buttons, context, header, section } from '../../kit/blocks.js';
import type { Message } from '../../kit/message.js';
import { whatNow } from './ask-host-message.js';
import type { AskView } from './ask-view-message.js';
import { askersOf, coffeeBold, people, person, weight } from './ask-words-message.js';

/** As many asks as a phone shows without tiring. */
const MOST = 8;

/** The open asks, the next roast day first, with the buttons of whoever looks. */
export function askListMessage(views: readonly AskView[], viewer: string): Message {
  const ask = buttons(button('Ask for a roast', 'ask.form', {}));
  if (views.length === 0) {
    const none = 'No roast is asked for at the moment.';
    return { text: none, blocks: [section(none), ...ask] };
  }
  const shown = views.slice(0, MOST);
  const title = `Roast asks: ${counted(views.length, 'open one')}`;
  const later = views.length > MOST ? [context(`${views.length - MOST} more, with later roast days.`)] : [];
  return {
    text: title,
    blocks: [header(title), ...shown.flatMap((view) => row(view, viewer)), ...later, ...ask],
  };
}

function row(view: AskView, viewer: string) {
  const { ask } = view;
  const tables = view.tables.filter((table) => table.mg > 0).map((table) => table.name);
  const behind = tables.length > 0 ? ` for ${tables.join(', ')}` : '';
  const line = `${coffeeBold(view)}${behind}: ${weight(view, ask.greenMg)} green, about ${weight(view, ask.roastedMg)} roasted. ${whatNow(view)} Roaster ${person(ask.roaster)}, asked by ${people(askersOf(view))}.`;
  const value = { ask: ask.id };
  const roaster = viewer === ask.roaster || viewer === view.house.roasterPerson;
  if (roaster && ask.state === 'asked')
    return [
      section(line),
      ...buttons(
        button('Accept', `ask.accept#${ask.id}`, value, { style: 'primary' }),
        button('Offer another day', `ask.offer#${ask.id}`, value),
        button('Decline', `ask.decline#${ask.id}`, value),
      ),
    ];
  if (roaster && ask.state === 'accepted')
    return [section(line), ...buttons(button('Roasted', `ask.roasted#${ask.id}`, value))];
  if (!askersOf(view).includes(viewer)) return [section(line)];
  const agree =
    ask.state === 'offered'
      ? [
          button(
            'Agree to the day',
            `ask.agree#${ask.id}`,
            { ...value, day: ask.offeredDay },
            { style: 'primary' },
          ),
        ]
      : [];
  return [section(line), ...buttons(...agree, button('Withdraw', `ask.withdraw#${ask.id}`, value))];
}
