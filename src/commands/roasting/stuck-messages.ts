import type { ActionsBlock, Button } from '@slack/types';
import { plainList } from '../../domain/measure/plain-list.js';
import { LIVE_ASKS } from '../../domain/record/ask.js';
import type { Coffee } from '../../domain/record/coffee.js';
import { type Tasting, tastingName } from '../../domain/record/tasting.js';
import { formatShortDay, formatTime, localDay } from '../../domain/when/local-day.js';
import { button, buttons, say, section } from '../../kit/blocks.js';
import { mrkdwn, plain, shorten } from '../../kit/escape.js';
import { type Message, messageTo, type Notice } from '../../kit/notice.js';
import {
  type AskTable,
  type AskView,
  askersOf,
  coffeeBold,
  person,
  withdrawButton,
} from './ask-view-message.js';

/** A coffee that will not be there for a table, and what its host can do. */
export type Stuck = Pick<AskTable, 'tasting' | 'dates' | 'nearest' | 'canAskAgain'> & {
  /** The ask it hangs on, when there is one. */
  readonly askId: number | null;
  readonly coffee: Pick<Coffee, 'id' | 'name'>;
  readonly zone: string;
};

/** Longest piece of a coffee's name on a button, which Slack cuts at 75 characters. */
const NAME_LIMIT = 30;

/** The ways out, the gentlest first: move the tasting, ask again, another coffee, drop the cup. */
export function waysOut(stuck: Stuck): readonly ActionsBlock[] {
  const { tasting, coffee } = stuck;
  const value = { tasting: tasting.id, coffee: coffee.id, ask: stuck.askId };
  const at = `${tasting.id}-${coffee.id}`;
  const table = tastingName(tasting);
  const name = shorten(plain(coffee.name), NAME_LIMIT);
  const moves = stuck.dates.slice(0, 3).map((date, index) => {
    const when = `${formatShortDay(localDay(date.start, stuck.zone))}, ${formatTime(date.start, stuck.zone)}`;
    return button(`Move ${table} to ${when}`, `ask.move#${at}-${index}`, {
      ...value,
      at: date.start.toISOString(),
    });
  });
  const others: Button[] = [];
  if (stuck.canAskAgain) others.push(button('Ask again', `ask.again#${at}`, value));
  if (stuck.nearest) {
    const other = shorten(plain(stuck.nearest.name), NAME_LIMIT);
    others.push(
      button(`Use ${other} instead`, `ask.nearest#${at}`, { ...value, other: stuck.nearest.coffeeId }),
    );
  }
  others.push(
    button(`Drop ${name}`, `ask.drop#${at}`, value, {
      style: 'danger',
      confirm: {
        title: `Drop ${name}?`,
        text: `The cups of ${table} that cannot be made without it are taken off the table.`,
        yes: 'Drop',
        no: 'Keep',
      },
    }),
  );
  return buttons(...moves, ...others);
}

/** Coffee that a table goes short of because tables booked before hold it. */
export type LostCoffee = {
  readonly id: number;
  readonly coffee: string;
  readonly grams: string;
  /** Names of the tables that hold it: T4. */
  readonly to: readonly string[];
  /** Where the coffee stands for this table by now, one sentence. */
  readonly now: string;
};

/** Tells a host at once which coffees cannot be there, with the ways out, and what other tables took. */
export function shortfallNotices(
  tasting: Tasting,
  when: string,
  stuck: readonly (Stuck & { readonly said: string })[],
  lost: readonly LostCoffee[],
): readonly Notice[] {
  const key = `ask:tasting-${tasting.id}`;
  const table = tastingName(tasting);
  const names = plainList(stuck.map((way) => mrkdwn(way.coffee.name)));
  const message = say(
    `*${table}*, ${when}: no roast is under way for *${names}*.`,
    ...stuck.flatMap((way) => [section(mrkdwn(way.said)), ...waysOut(way)]),
  );
  return [
    messageTo(tasting.host, `${key}:stuck`, stuck.length > 0 ? message : null),
    ...lost.map((one) => messageTo(tasting.host, `${key}:lost:${one.id}`, lostMessage(table, one))),
  ];
}

function lostMessage(table: string, lost: LostCoffee): Message {
  const who = lost.to.length > 0 ? plainList(lost.to) : 'Another table';
  return say(
    `*${mrkdwn(lost.coffee)}* on the shelf: ${who}, booked before *${table}*, holds it, and ${lost.grams} are missing for ${table}.\n${mrkdwn(lost.now)}`,
  );
}

/** Why Slack would not show the roaster what was for them; empty once it did. */
export type Unheard = { readonly errors: readonly string[]; readonly told: boolean };

const WHY = new Map([
  ['user_disabled', 'their account is deactivated'],
  ['user_not_found', 'they are no longer in this workspace'],
  ['account_inactive', 'their account is deactivated'],
]);

/** Those who asked hear at once when the roaster cannot: an ask that nobody reads is no ask. */
export function unheardNotices(view: AskView, unheard: Unheard): readonly Notice[] {
  const { ask } = view;
  const isUnheard = unheard.errors.length > 0 && LIVE_ASKS.includes(ask.state);
  if (!isUnheard && !unheard.told) return [];
  const why = [...new Set(unheard.errors)].map((error) => WHY.get(error) ?? `Slack says “${error}”`);
  const message = isUnheard
    ? say(
        `I could not tell ${person(ask.roaster)} about roasting ${coffeeBold(view)} alone: ${why.join('; ')}. Tell whoever roasts another way, or name another roaster with \`/spoon house roaster @name\` and ask anew.`,
        ...buttons(withdrawButton(view)),
      )
    : say(`${person(ask.roaster)} need not be told about ${coffeeBold(view)} another way any more.`);
  return askersOf(view)
    .filter((asker) => asker !== ask.roaster)
    .map((asker) => messageTo(asker, unheardKey(ask.id, asker), message));
}

/** The key of what this person hears when the roaster of an ask cannot be told. */
export function unheardKey(askId: number, asker: string): string {
  return `ask:${askId}:unheard:${asker}`;
}
