import { counted, plainList } from '../../domain/measure/plain-list.js';
import { LIVE_ASKS } from '../../domain/record/ask.js';
import { button, buttons, context, header, say, section } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message, Notice } from '../../kit/notice.js';
import {
  type AskEvent,
  type AskTable,
  type AskView,
  answerButtons,
  askersOf,
  coffeeBold,
  dayOf,
  lastEvent,
  partiesAt,
  partiesEver,
  people,
  person,
  weight,
  whatNow,
} from './ask-view-message.js';
import { type Stuck, waysOut } from './stuck-messages.js';

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
  const together = others.length > 0 ? ` It is roasted together with ${plainList(others)}.` : '';
  const live = LIVE_ASKS.includes(ask.state);
  const leave = button(others.length > 0 ? 'Withdraw my part' : 'Withdraw the ask', 'ask.withdraw', {
    ask: ask.id,
  });
  if (live && grams === 0) return say(`${coffeeBold(view)}: you no longer wait for this roast.`);
  return say(
    `${charge}${together}\n${whatNow(view)} Roaster: ${person(ask.roaster)}.`,
    ...(live && grams > 0 ? buttons(leave) : []),
  );
}

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
  if (roaster && ask.state === 'asked') return [section(line), ...answerButtons(view, `#${ask.id}`)];
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
