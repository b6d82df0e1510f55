import { createBot } from '../../src/app/create-bot.js';
import type { Message } from '../../src/local/api-types.js';
import { type HouseOptions, type StoryHouse, startHouse } from './start-house.js';

/** Wednesday 4 November 2026, ten in the morning in Lisbon: nine days before the demo's table. */
export const BEFORE = new Date('2026-11-04T10:00:00Z');
export const BOOKING =
  '/spoon book "Harbour Lamp" 13 nov 14:00 ratios 2:1:1 40/40/20 with @noor @teo @mika @sol @wren @jun';

/** A house with the real bot, at a time of the story, with codes and orders that are the same every time. */
export function startStory(options: Partial<HouseOptions> = {}): Promise<StoryHouse> {
  return startHouse({ bot: createBot(), startsAt: BEFORE, newSeed: () => 7, ...options });
}

/** The one message of the channel that begins so, as this person sees it. */
export async function card(house: StoryHouse, beginning: string, as = 'ines'): Promise<Message> {
  return one(await house.as(as).messages(), beginning);
}

/** The one message that begins so. */
export function one(messages: readonly Message[], beginning: string): Message {
  const found = messages.filter((message) => message.text.startsWith(beginning));
  const [message] = found;
  if (!message || found.length > 1) {
    throw new Error(
      `${found.length} messages begin with “${beginning}”: ${messages.map(({ text }) => text).join(' | ')}`,
    );
  }
  return message;
}

/** Everything a message says, its blocks included. */
export function wordsOf(message: Message): string {
  const texts = [
    ...JSON.stringify(message.blocks ?? []).matchAll(/"(?:text|alt_text)":"((?:[^"\\]|\\.)*)"/g),
  ];
  return [message.text, ...texts.map((match) => JSON.parse(`"${match[1]}"`) as string)]
    .join('\n')
    .replaceAll('\u2060', '');
}

/** Books the demo's table, has its missing coffee roasted, and opens it ten minutes before the start. */
export async function openTable(house: StoryHouse, booking = BOOKING): Promise<Message> {
  const [ines, bram] = [house.as('ines'), house.as('bram')];
  await ines.command(booking);
  const ask = one(await bram.direct(), 'Roast ask');
  await bram.tap(ask, 'ask.accept');
  await house.moveTo(new Date('2026-11-12T11:00:00Z'));
  await bram.tap(one(await bram.direct(), 'Roast ask, accepted'), 'ask.roasted');
  await bram.submit({ roasted: '238 g' });
  await house.moveTo(new Date('2026-11-13T13:50:00Z'));
  await ines.tap(await card(house, 'T1 ·'), 'table.open');
  return card(house, 'T1 ·');
}
