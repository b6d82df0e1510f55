import { afterEach, expect, test } from 'vitest';
import type { StoryHouse } from './start-house.js';
import { BOOKING, card, one, openTable, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

test('a note taken back under a card whose posting Slack has not confirmed yet stays taken back', async () => {
  house = await startStory();
  const { client, channel } = house;
  const ines = house.as('ines');
  await ines.command(BOOKING);
  const table = await card(house, 'T1 ·');
  // Slack shows the next message at once, and its answer to the call that posted it is lost after 700 ms. The
  // first note (after the echo of the card itself) reaches the bot a minute late, long after word that it was taken back.
  await client.faults(
    { kind: 'time-out', methods: ['chat.postMessage'], done: true, holdMs: 700, times: 1 },
    { kind: 'deliver-late', only: ['message'], delayMs: 60_000, skip: 1, times: 1 },
  );
  await client.tap({
    as: ines.id,
    message: { channel, ts: table.ts },
    action: { actionId: 'table.open' },
  });
  const cup = await appearing('Cup A');
  const gone = await client.say({ as: house.id('teo'), channel, thread: cup.ts, text: 'cardboard' });
  await client.post('delete', { as: house.id('teo'), channel, ts: gone });
  const kept = await client.say({ as: house.id('noor'), channel, thread: cup.ts, text: 'dark chocolate' });
  await house.settle();
  await house.advance(61_000);
  await ines.tap(await card(house, 'T1 ·'), 'tally.show');
  const tally = wordsOf(one(await ines.thread(table.ts), 'Tally T1'));
  expect(tally).toContain('dark chocolate 1 of 1');
  expect(tally).not.toContain('cardboard');
  const notes = await house.bot.deps.db
    .selectFrom('note')
    .select('ts')
    .where('deleted_at', 'is', null)
    .execute();
  expect(notes).toEqual([{ ts: kept }]);
});

/** Waits for a message to appear, without waiting for the house to come to rest. */
async function appearing(beginning: string) {
  for (let tries = 0; tries < 200; tries += 1) {
    const messages = await house.client.messages(house.id('noor'), house.channel);
    const found = messages.find(({ text }) => text.startsWith(beginning));
    if (found) return found;
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
  throw new Error(`nothing begins with “${beginning}”`);
}

test('a note whose taking back was never heard of goes when its message turns out to be gone', async () => {
  house = await startStory();
  const { client, channel } = house;
  const table = await openTable(house);
  // The note comes late, and word that it was taken back is lost for good.
  await client.faults(
    { kind: 'deliver-late', only: ['message'], delayMs: 60_000, times: 1 },
    { kind: 'lose-delivery', only: ['message_deleted'] },
  );
  const gone = await client.say({ as: house.id('teo'), channel, thread: table.ts, text: 'C: cardboard' });
  await client.post('delete', { as: house.id('teo'), channel, ts: gone });
  await house.advance(61_000);
  await client.clearFaults();
  await house.settle();
  const notes = await house.bot.deps.db
    .selectFrom('note')
    .select('ts')
    .where('deleted_at', 'is', null)
    .execute();
  expect(notes).toEqual([]);
});
