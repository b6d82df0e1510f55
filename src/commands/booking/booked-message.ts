import type { KnownBlock } from '@slack/types';
import { button, buttons, context, section } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/notice.js';

export type BookedAnswer = {
  readonly tastingId: number;
  readonly name: string;
  readonly recipe: string;
  readonly when: string;
  readonly cups: number;
  readonly blind: boolean;
  /** What was said while reading: assumed afternoons, ratios read as parts. */
  readonly remarks: readonly string[];
  /** Where each coffee stands, one sentence each. */
  readonly roasts: readonly string[];
};

/** The host's own answer to a booking: what was understood, what has to be roasted, what to do next. */
export function bookedMessage(booked: BookedAnswer): Message {
  const head = `Booked *${booked.name}*: *${mrkdwn(booked.recipe)}*, ${mrkdwn(booked.when)}.`;
  const cups = `${booked.cups} cups${booked.blind ? ', blind' : ''}.${booked.cups > 12 ? ' More than 12 is more than one flight: think of two.' : ''}`;
  const blocks: KnownBlock[] = [section(`${head}\n${cups}`)];
  if (booked.roasts.length > 0)
    blocks.push(section(booked.roasts.map((line) => `• ${mrkdwn(line)}`).join('\n')));
  if (booked.remarks.length > 0) blocks.push(context(...booked.remarks.map(mrkdwn)));
  const value = { tasting: booked.tastingId };
  blocks.push(
    ...buttons(
      button('Table sheet', 'table.sheet', value),
      button('Add a ratio', 'pour.form', value),
      button('Move or cancel', 'book.change', value),
    ),
  );
  const text = [
    `Booked ${booked.name}: ${mrkdwn(booked.recipe)}, ${booked.when}. ${cups}`,
    ...booked.roasts.map(mrkdwn),
    ...booked.remarks.map(mrkdwn),
  ].join(' ');
  return { text, blocks };
}
