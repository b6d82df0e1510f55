import { plainList } from '../../domain/measure/plain-list.js';
import { say, section } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';
import type { Notice } from '../../kit/notice.js';
import { type Stuck, waysOut } from './ask-ways-out-message.js';

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
