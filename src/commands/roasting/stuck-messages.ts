import type { ActionsBlock, Button } from '@slack/types';
import { plainList } from '../../domain/measure/plain-list.js';
import { LIVE_ASKS } from '../../domain/record/ask.js';
import type { FittingStart } from '../../domain/roast/roast-day.js';
import { formatShortDay, formatTime, localDay } from '../../domain/when/local-day.js';
import { button, buttons, say, section } from '../../kit/blocks.js';
import { mrkdwn, plain, shorten } from '../../kit/escape.js';
import type { Message, Notice } from '../../kit/notice.js';
import { type AskView, askersOf, coffeeBold, person } from './ask-view-message.js';

/** A coffee that will not be there for a table, and what its host can do. */
export type Stuck = {
  /** The ask it hangs on, when there is one. */
  readonly askId: number | null;
  readonly tastingId: number;
  readonly tableName: string;
  readonly coffeeId: number;
  readonly coffeeName: string;
  readonly dates: readonly FittingStart[];
  readonly nearest: { readonly coffeeId: number; readonly name: string } | null;
  readonly zone: string;
  /** A roast day would still fit, so it can be asked for once more. */
  readonly canAskAgain: boolean;
};

/** Longest piece of a coffee's name on a button, which Slack cuts at 75 characters. */
const NAME_LIMIT = 30;

/** The ways out, the gentlest first: move the tasting, ask again, another coffee, drop the cup. */
export function waysOut(stuck: Stuck, ...first: readonly Button[]): readonly ActionsBlock[] {
  const { tastingId: tasting, coffeeId: coffee, askId: ask } = stuck;
  const value = { tasting, coffee, ask };
  const at = `${tasting}-${coffee}`;
  const name = shorten(plain(stuck.coffeeName), NAME_LIMIT);
  const moves = stuck.dates.slice(0, 3).map((date, index) => {
    const when = `${formatShortDay(localDay(date.start, stuck.zone))}, ${formatTime(date.start, stuck.zone)}`;
    return button(`Move ${stuck.tableName} to ${when}`, `ask.move#${at}-${index}`, {
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
        text: `The cups of ${stuck.tableName} that cannot be made without it are taken off the table.`,
        yes: 'Drop',
        no: 'Keep',
      },
    }),
  );
  return buttons(...first, ...moves, ...others);
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

/** What a host has to know of coffees that nothing brings. */
export type Shortfall = {
  readonly tastingId: number;
  readonly tableName: string;
  readonly host: string;
  readonly when: string;
  readonly stuck: readonly { readonly way: Stuck; readonly said: string }[];
  readonly lost: readonly LostCoffee[];
};

/** Tells a host at once which coffees cannot be there, with the ways out, and what other tables took. */
export function shortfallNotices(shortfall: Shortfall): readonly Notice[] {
  const place = { kind: 'direct', person: shortfall.host } as const;
  const key = `ask:tasting-${shortfall.tastingId}`;
  const stuck = shortfall.stuck.length > 0 ? stuckMessage(shortfall) : null;
  return [
    { kind: 'message', key: `${key}:stuck`, place, message: stuck },
    ...shortfall.lost.map(
      (lost): Notice => ({
        kind: 'message',
        key: `${key}:lost:${lost.id}`,
        place,
        message: lostMessage(shortfall, lost),
      }),
    ),
  ];
}

function stuckMessage(shortfall: Shortfall): Message {
  const names = plainList(shortfall.stuck.map((entry) => mrkdwn(entry.way.coffeeName)));
  const head = `*${shortfall.tableName}*, ${shortfall.when}: no roast is under way for *${names}*.`;
  const each = shortfall.stuck.flatMap((entry) => [section(mrkdwn(entry.said)), ...waysOut(entry.way)]);
  return say(head, ...each);
}

function lostMessage(shortfall: Shortfall, lost: LostCoffee): Message {
  const who = lost.to.length > 0 ? plainList(lost.to) : 'Another table';
  return say(
    `*${mrkdwn(lost.coffee)}* on the shelf: ${who}, booked before *${shortfall.tableName}*, holds it, and ${lost.grams} are missing for ${shortfall.tableName}.\n${mrkdwn(lost.now)}`,
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
        ...buttons(button('Withdraw the ask', 'ask.withdraw', { ask: ask.id })),
      )
    : say(`${person(ask.roaster)} need not be told about ${coffeeBold(view)} another way any more.`);
  return askersOf(view)
    .filter((asker) => asker !== ask.roaster)
    .map((asker) => ({
      kind: 'message',
      key: unheardKey(ask.id, asker),
      place: { kind: 'direct', person: asker },
      message,
    }));
}

/** The key of what this person hears when the roaster of an ask cannot be told. */
export function unheardKey(askId: number, asker: string): string {
  return `ask:${askId}:unheard:${asker}`;
}
