import { counted, plainList } from '../../domain/measure/plain-list.js';
import { type AskChanged, LIVE_ASKS } from '../../domain/record/ask.js';
import { hasNotBegun, tastingName } from '../../domain/record/tasting.js';
import { button, buttons, context, header, say, section } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { type Message, messageTo, type Notice } from '../../kit/notice.js';
import {
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
  tableNames,
  tablesOf,
  weight,
  whatNow,
  withdrawButton,
} from './ask-view-message.js';
import { type Stuck, waysOut } from './stuck-messages.js';

/** After it fell through the ask came to life again: roasted after all, or asked once more. */
const LIVE_AGAIN: ReadonlySet<string> = new Set(['asked', 'accepted', 'offered', 'roasted']);
const FELL = new Set(['decline', 'missed', 'lapsed']);

/** What hosts (and those who asked without a table) are told when an ask does not simply go its way. */
export function hostNotices(view: AskView): readonly Notice[] {
  return view.events.flatMap((event) => {
    const { what, kind } = event.detail;
    const tell = (key: string, message: (asker: string) => Message) =>
      partiesAt(view, event.id)
        .filter((asker) => asker !== view.ask.roaster)
        .map((asker) => messageTo(asker, `ask:${view.ask.id}:${key}:${event.id}:${asker}`, message(asker)));
    if (what === 'offer') return tell('offered', (asker) => offered(view, event, asker));
    if (FELL.has(what)) return tell(what, (asker) => fell(view, event, asker));
    if (kind === 'ask last call') return tell('unanswered', () => unanswered(view, event));
    return kind === 'ask late' ? tell('late', () => late(view, event)) : [];
  });
}

function forTables(view: AskView, asker: string): string {
  const names = tableNames(view, asker);
  return names.length > 0 ? ` for ${plainList(names)}` : '';
}

function offered(view: AskView, event: AskChanged, asker: string): Message {
  const { ask } = view;
  const day = dayOf(view, event.detail.day ?? ask.roastDay);
  const head = `${person(event.who)} offers *${day}* for ${coffeeBold(view)}${forTables(view, asker)}.`;
  const open =
    ask.state === 'offered' && lastEvent(view, 'offer')?.id === event.id && askersOf(view).includes(asker);
  if (!open) return say(`${head}\n${whatNow(view)}`);
  const tables = tablesOf(view, asker).filter(({ tasting }) => hasNotBegun(tasting));
  const misfits = tables.filter((table) => table.offerFits === false);
  const value = { ask: ask.id, day: ask.offeredDay };
  const agree = button(`Agree to ${day}`, 'ask.agree', value, { style: 'primary' });
  const withdraw = withdrawButton(view);
  if (misfits.length === 0) {
    const rest = tables.length > 0 ? ' It leaves the rest the coffee needs.' : '';
    return say(`${head}${rest}`, ...buttons(agree, withdraw));
  }
  const late = misfits.map(({ tasting }) => tastingName(tasting));
  return say(
    `${head}\nThat does not leave the rest the coffee needs before ${plainList(late)}. Move the tasting to a day that fits, and the offer is agreed; or find another way.`,
    ...misfits.flatMap((table) => waysOut({ ...stuckOf(view, table), canAskAgain: false })),
    ...buttons(withdraw),
  );
}

/** Declined, missed or never answered: what to do for each table that still lacks the coffee. */
function fell(view: AskView, event: AskChanged, asker: string): Message {
  const day = dayOf(view, event.detail.day ?? view.ask.roastDay);
  const what = `${coffeeBold(view)}${forTables(view, asker)}`;
  const { what: how, because: reason } = event.detail;
  const because = reason ? `: “${mrkdwn(reason)}”` : '.';
  const head =
    how === 'decline'
      ? `${person(event.who)} cannot roast ${what} on ${day}${because}`
      : how === 'missed'
        ? `${what} was *not roasted* on ${day}.`
        : `${what}: *nobody answered* before ${day}, so that ask has lapsed.`;
  if (LIVE_AGAIN.has(view.ask.state)) return say(`${head}\n${whatNow(view)}`);
  const tables = tablesOf(view, asker);
  const open = tables.filter((table) => hasNotBegun(table.tasting) && !table.served);
  const served = tables.filter((table) => table.served).map(({ tasting }) => tastingName(tasting));
  const settled = served.length > 0 ? `\n${plainList(served)} will have it another way by now.` : '';
  if (open.length === 0) return say(`${head}${settled}`);
  return say(
    `${head}${settled}\nWhat would you like to do?`,
    ...open.flatMap((table) => waysOut(stuckOf(view, table))),
  );
}

function stuckOf(view: AskView, table: AskTable): Stuck {
  return { ...table, askId: view.ask.id, coffee: view.coffee, zone: view.house.timeZone };
}

function unanswered(view: AskView, event: AskChanged): Message {
  const { ask } = view;
  const day = event.detail.day ?? ask.roastDay;
  const asked = `${person(ask.roaster)} was asked for ${coffeeBold(view)} on *${dayOf(view, day)}*`;
  if (ask.state !== 'asked' || ask.roastDay !== day) return say(`${asked}. ${whatNow(view)}`);
  return say(
    `${asked} and has *not answered yet*. The roast day fills up soon: a word in person may help.`,
    ...buttons(withdrawButton(view)),
  );
}

function late(view: AskView, event: AskChanged): Message {
  const { ask } = view;
  const day = event.detail.day ?? ask.roastDay;
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
  const joined = askersOf(view).length > 1 || view.events.some((event) => event.detail.what === 'joined');
  const free = new Set(view.events.flatMap((event) => event.detail.free?.person ?? []));
  return partiesEver(view)
    .filter((asker) => asker !== view.ask.roaster && (joined || free.has(asker)))
    .map((asker) => messageTo(asker, `ask:${view.ask.id}:for:${asker}`, receipt(view, asker)));
}

function receipt(view: AskView, asker: string): Message {
  const { ask } = view;
  const own = [...tablesOf(view, asker), ...ask.free.filter((entry) => entry.person === asker)];
  const others = [
    ...tablesOf(view)
      .filter(({ tasting }) => tasting.host !== asker)
      .map((table) => `${tastingName(table.tasting)} (${weight(view, table.mg)})`),
    ...ask.free
      .filter((entry) => entry.person !== asker)
      .map((entry) => `${person(entry.person)} (${weight(view, entry.mg)})`),
  ];
  const grams = own.reduce((sum, entry) => sum + entry.mg, 0);
  const yours = grams > 0 ? `, ${weight(view, grams)} roasted of it yours` : '';
  const charge = `${coffeeBold(view)}: ${weight(view, ask.greenMg)} green in one charge${yours}.`;
  const together = others.length > 0 ? ` It is roasted together with ${plainList(others)}.` : '';
  const live = LIVE_ASKS.includes(ask.state);
  const leave = withdrawButton(view, others.length > 0 ? 'Withdraw my part' : undefined);
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
  if (views.length === 0) return say('No roast is asked for at the moment.', ...ask);
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
  const tables = tableNames(view);
  const behind = tables.length > 0 ? ` for ${tables.join(', ')}` : '';
  const line = `${coffeeBold(view)}${behind}: ${weight(view, ask.greenMg)} green, about ${weight(view, ask.roastedMg)} roasted. ${whatNow(view)} Roaster ${person(ask.roaster)}, asked by ${people(askersOf(view))}.`;
  const value = { ask: ask.id };
  const roaster = viewer === ask.roaster || viewer === view.house.roasterPerson;
  if (roaster && ask.state === 'asked') return [section(line), ...answerButtons(view, `#${ask.id}`)];
  if (roaster && ask.state === 'accepted')
    return [section(line), ...buttons(button('Roasted', `ask.roasted#${ask.id}`, value))];
  if (!askersOf(view).includes(viewer)) return [section(line)];
  const day = { ...value, day: ask.offeredDay };
  const agree = button('Agree to the day', `ask.agree#${ask.id}`, day, { style: 'primary' });
  return [
    section(line),
    ...buttons(...(ask.state === 'offered' ? [agree] : []), withdrawButton(view, 'Withdraw', `#${ask.id}`)),
  ];
}
