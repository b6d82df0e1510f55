import { plainList } from '../../domain/measure/plain-list.js';
import { button, buttons, say } from '../../kit/blocks.js';
import type { Message } from '../../kit/message.js';
import type { Notice } from '../../kit/notice.js';
import { whatNow } from './ask-host-message.js';
import type { AskView } from './ask-view-message.js';
import { askersOf, coffeeBold, partiesEver, person, weight } from './ask-words-message.js';

/**
 * What those behind an ask hold in hand: everybody who asked without a table, and every host whose coffee
 * is roasted in one charge with somebody else's.
 */
export function receiptNotices(view: AskView): readonly Notice[] {
  const joined = askersOf(view).length > 1 || view.events.some((event) => event.what === 'joined');
  const free = new Set(view.events.flatMap((event) => event.free?.person ?? []));
  return partiesEver(view)
    .filter((asker) => asker !== view.ask.roaster && (joined || free.has(asker)))
    .map((asker) => ({
      kind: 'message',
      key: `ask:${view.ask.id}:for:${asker}`,
      place: { kind: 'direct', person: asker },
      message: receipt(view, asker),
    }));
}

function receipt(view: AskView, asker: string): Message {
  const { ask } = view;
  const own = [
    ...view.tables.filter((table) => table.host === asker && table.mg > 0),
    ...view.free.filter((entry) => entry.person === asker),
  ];
  const others = [
    ...view.tables
      .filter((table) => table.host !== asker && table.mg > 0)
      .map((table) => `${table.name} (${weight(view, table.mg)})`),
    ...view.free
      .filter((entry) => entry.person !== asker)
      .map((entry) => `${person(entry.person)} (${weight(view, entry.mg)})`),
  ];
  const grams = own.reduce((sum, entry) => sum + entry.mg, 0);
  const yours = grams > 0 ? `, ${weight(view, grams)} roasted of it yours` : '';
  const charge = `${coffeeBold(view)}: ${weight(view, ask.greenMg)} green in one charge${yours}.`;
  const with_ = others.length > 0 ? ` It is roasted together with ${plainList(others)}.` : '';
  const live = ask.state === 'asked' || ask.state === 'accepted' || ask.state === 'offered';
  const leave = button(others.length > 0 ? 'Withdraw my part' : 'Withdraw the ask', 'ask.withdraw', {
    ask: ask.id,
  });
  if (live && grams === 0) return say(`${coffeeBold(view)}: you no longer wait for this roast.`);
  return say(
    `${charge}${with_}\n${whatNow(view)} Roaster: ${person(ask.roaster)}.`,
    ...(live && grams > 0 ? buttons(leave) : []),
  );
}
