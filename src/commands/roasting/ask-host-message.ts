import { plainList } from '../../domain/measure/plain-list.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';
import type { Notice } from '../../kit/notice.js';
import type { AskEvent, AskTable, AskView } from './ask-view-message.js';
import { type Stuck, waysOut } from './ask-ways-out-message.js';
import { askersOf, coffeeBold, dayOf, lastEvent, partiesAt, person, weight } from './ask-words-message.js';

/** After it fell through the ask came to life again: roasted after all, or asked once more. */
const LIVE_AGAIN: ReadonlySet<string> = new Set(['asked', 'accepted', 'offered', 'roasted']);
const FELL = new Set(['decline', 'missed', 'lapsed']);

/** What hosts (and those who asked without a table) are told when an ask does not simply go its way. */
export function hostNotices(view: AskView): readonly Notice[] {
  return view.events.flatMap((event) => {
    const tell = (what: string, message: (asker: string) => Message) =>
      partiesAt(view, event.id)
        .filter((asker) => asker !== view.ask.roaster)
        .map((asker) => direct(view, `${what}:${event.id}`, asker, message(asker)));
    if (event.what === 'offer') return tell('offered', (asker) => offered(view, event, asker));
    if (FELL.has(event.what)) return tell(event.what, (asker) => fell(view, event, asker));
    if (event.reminder === 'ask last call') return tell('unanswered', () => unanswered(view, event));
    return event.reminder === 'ask late' ? tell('late', () => late(view, event)) : [];
  });
}

function direct(view: AskView, what: string, to: string, message: Message): Notice {
  return {
    kind: 'message',
    key: `ask:${view.ask.id}:${what}:${to}`,
    place: { kind: 'direct', person: to },
    message,
  };
}

function tablesOf(view: AskView, asker: string): readonly AskTable[] {
  return view.tables.filter((table) => table.host === asker && table.mg > 0);
}

function forTables(view: AskView, asker: string): string {
  const names = tablesOf(view, asker).map((table) => table.name);
  return names.length > 0 ? ` for ${plainList(names)}` : '';
}

function offered(view: AskView, event: AskEvent, asker: string): Message {
  const { ask } = view;
  const day = dayOf(view, event.day ?? ask.roastDay);
  const head = `${person(event.who)} offers *${day}* for ${coffeeBold(view)}${forTables(view, asker)}.`;
  const open =
    ask.state === 'offered' && lastEvent(view, 'offer')?.id === event.id && askersOf(view).includes(asker);
  if (!open) return say(`${head}\n${whatNow(view)}`);
  const tables = tablesOf(view, asker).filter((table) => table.ahead);
  const misfits = tables.filter((table) => table.offerFits === false);
  const value = { ask: ask.id, day: ask.offeredDay };
  const agree = button(`Agree to ${day}`, 'ask.agree', value, { style: 'primary' });
  const withdraw = button('Withdraw the ask', 'ask.withdraw', { ask: ask.id });
  if (misfits.length === 0) {
    const rest = tables.length > 0 ? ' It leaves the rest the coffee needs.' : '';
    return say(`${head}${rest}`, ...buttons(agree, withdraw));
  }
  const late = misfits.map((table) => table.name);
  return say(
    `${head}\nThat does not leave the rest the coffee needs before ${plainList(late)}. Move the tasting to a day that fits, and the offer is agreed; or find another way.`,
    ...misfits.flatMap((table) => waysOut(stuckOf(view, table, false))),
    ...buttons(withdraw),
  );
}

/** Declined, missed or never answered: what to do for each table that still lacks the coffee. */
function fell(view: AskView, event: AskEvent, asker: string): Message {
  const day = dayOf(view, event.day ?? view.ask.roastDay);
  const what = `${coffeeBold(view)}${forTables(view, asker)}`;
  const because = event.because ? `: “${mrkdwn(event.because)}”` : '.';
  const head =
    event.what === 'decline'
      ? `${person(event.who)} cannot roast ${what} on ${day}${because}`
      : event.what === 'missed'
        ? `${what} was *not roasted* on ${day}.`
        : `${what}: *nobody answered* before ${day}, so that ask has lapsed.`;
  if (LIVE_AGAIN.has(view.ask.state)) return say(`${head}\n${whatNow(view)}`);
  const tables = tablesOf(view, asker);
  const open = tables.filter((table) => table.ahead && !table.served);
  const served = tables.filter((table) => table.served).map((table) => table.name);
  const settled = served.length > 0 ? `\n${plainList(served)} will have it another way by now.` : '';
  if (open.length === 0) return say(`${head}${settled}`);
  return say(
    `${head}${settled}\nWhat would you like to do?`,
    ...open.flatMap((table) => waysOut(stuckOf(view, table, true))),
  );
}

function stuckOf(view: AskView, table: AskTable, canAskAgain: boolean): Stuck {
  return {
    askId: view.ask.id,
    tastingId: table.tastingId,
    tableName: table.name,
    coffeeId: view.coffee.id,
    coffeeName: view.coffee.name,
    dates: table.dates,
    nearest: table.nearest,
    zone: view.house.timeZone,
    canAskAgain: canAskAgain && table.canAskAgain,
  };
}

function unanswered(view: AskView, event: AskEvent): Message {
  const { ask } = view;
  const day = event.day ?? ask.roastDay;
  const asked = `${person(ask.roaster)} was asked for ${coffeeBold(view)} on *${dayOf(view, day)}*`;
  if (ask.state !== 'asked' || ask.roastDay !== day) return say(`${asked}. ${whatNow(view)}`);
  return say(
    `${asked} and has *not answered yet*. The roast day fills up soon: a word in person may help.`,
    ...buttons(button('Withdraw the ask', 'ask.withdraw', { ask: ask.id })),
  );
}

function late(view: AskView, event: AskEvent): Message {
  const { ask } = view;
  const day = event.day ?? ask.roastDay;
  const was = `${coffeeBold(view)} was to be roasted on *${dayOf(view, day)}* by ${person(ask.roaster)}`;
  if (ask.state !== 'accepted' || ask.roastDay !== day) return say(`${was}. ${whatNow(view)}`);
  return say(
    `${was}, and *nothing is recorded yet*. It may be roasted and not reported, or late: please ask.`,
  );
}

/** Where the ask stands by now, in one sentence. */
export function whatNow(view: AskView): string {
  const { ask, roast } = view;
  const day = dayOf(view, ask.roastDay);
  if (ask.state === 'asked') return `Asked for ${day}, not answered yet.`;
  if (ask.state === 'accepted') return `It is on the plan for ${day}.`;
  if (ask.state === 'offered') return `${dayOf(view, ask.offeredDay ?? ask.roastDay)} is on offer.`;
  if (ask.state === 'declined') return 'It was declined.';
  if (ask.state === 'missed') return `It was not roasted on ${day}.`;
  if (ask.state === 'withdrawn') return 'The ask was withdrawn.';
  const out = roast ? `, ${weight(view, roast.roastedMg)} came out` : '';
  return `It was roasted on ${day}${out}.`;
}
