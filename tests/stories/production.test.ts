import { afterEach, expect, test } from 'vitest';
import { createBot } from '../../src/app/create-bot.js';
import type { Message } from '../../src/local/api-types.js';
import type { StoryHouse } from './start-house.js';
import { BOOKING, card, openTable, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

const TASTERS = ['noor', 'teo', 'mika', 'sol', 'wren', 'jun'] as const;

/** The table of the demo as it was decided: the digest in the channel. */
async function digestOf(best: string): Promise<Message> {
  return (await decided(best)) ?? fail('no digest');
}

/** Books, roasts, tastes and closes the demo's table; the table prefers this cup. */
async function decided(
  best: string,
  decide = '/spoon digest T1 12 kg',
  pour: string | null = null,
): Promise<Message | null> {
  house = await startStory();
  const table = await openTable(house, BOOKING);
  const ines = house.as('ines');
  if (pour !== null) await ines.command(`/spoon pour T1 ${pour}`);
  const others = ['D', 'E', 'F'].filter((cup) => cup !== best);
  for (const taster of TASTERS) await house.as(taster).say(`${best} > ${others.join(' > ')}`, table.ts);
  await ines.tap(table, 'table.close');
  await ines.command(decide);
  return decide.includes('kg') ? card(house, 'Digest') : null;
}

/** Everything that this person alone was answered last. */
async function privately(person: string): Promise<string> {
  const seen = (await house.as(person).messages()).filter(({ ephemeral }) => ephemeral);
  return wordsOf(seen.at(-1) ?? fail('nothing was answered'));
}

function fail(why: string): never {
  throw new Error(why);
}

const formWords = async (person: string) =>
  wordsOf({ ...(await digestNow()), blocks: [...(await house.as(person).form()).blocks] });
const digestNow = () => card(house, 'Digest');

test('a steward signs the digest off with one tap: the winner is the recipe’s next version, and a second tap says so', async () => {
  const digest = await digestOf('E');
  await house.as('bram').tap(digest, 'table.sign');
  expect(await privately('bram')).toContain('That is for a steward');
  await house.as('ines').tap(digest, 'table.sign');
  expect(await privately('ines')).toContain('Signed off. 2:1:1 is *Harbour Lamp*, version 2.');
  const signed = await digestNow();
  expect(wordsOf(signed)).toContain(`Signed off by <@${house.id('ines')}> as version 2 of *Harbour Lamp*`);
  expect(wordsOf(signed)).not.toContain('next version');

  // A second tap that was under way when the button went.
  const again = await createBot().tapped(house.bot.deps, {
    who: { workspace: house.bot.workspace, person: house.id('ines') },
    action: 'table.sign',
    value: JSON.stringify({ tasting: 1 }),
    ...{ selected: [], channel: house.channel, messageTs: digest.ts, threadTs: null, form: null },
  });
  expect(again.message?.text).toContain('It is done');
  const history = (await house.as('noor').command('/spoon recipe "Harbour Lamp"')).response;
  expect(wordsOf(history ?? fail('no card'))).toMatch(/Version 2.*from T1: T1 chose 2:1:1/s);
});

test('signing off in the decide form does the same, once', async () => {
  await decided('E', '/spoon digest T1');
  await house.as('ines').submit({ batch: '12 kg', sign: ['sign'] });
  const digest = await digestNow();
  expect(wordsOf(digest)).toContain('as version 2 of *Harbour Lamp*');
  expect(JSON.stringify(digest.blocks)).not.toContain('table.sign');
});

test('a digest posted anew keeps the host’s own word and what was signed', async () => {
  await decided('E', '/spoon digest T1');
  await house.as('ines').submit({ batch: '12 kg', remarks: 'Lovely table.', sign: ['sign'] });
  const [table] = (await house.as('ines').messages()).filter(({ text }) => text.startsWith('T1 ·'));
  await house.as('noor').say('F is flat', table?.ts);
  const told = (await house.as('ines').direct()).find((message) =>
    JSON.stringify(message.blocks).includes('digest.again'),
  );
  await house.as('ines').tap(told ?? fail('the host was not told'), 'digest.again');
  const anew = wordsOf(await digestNow());
  expect(anew).toContain('“Lovely table.”');
  expect(anew).toContain('as version 2 of *Harbour Lamp*');
});

test('when the blend as it stands wins, signing off adds no second version of the same', async () => {
  const digest = await digestOf('D');
  await house.as('ines').tap(digest, 'table.sign');
  expect(await privately('ines')).toContain('50/30/20 is *Harbour Lamp*, version 1.');
});

test('a poured winner is not signed off but booked as a weighed blend, with its ratio and its people', async () => {
  await decided('G', '/spoon digest T1', '3:2:1');
  await house
    .as('ines')
    .submit({ batch: '12 kg', sign: ['sign'] })
    .catch(() => undefined);
  expect((await house.as('ines').forms()).length).toBeGreaterThan(0);
  await house.as('ines').submit({ batch: '12 kg', sign: [] });
  expect(await privately('ines')).toContain('only poured so far');
  const posted = await digestNow();
  expect(JSON.stringify(posted.blocks)).not.toContain('table.sign');
  expect(wordsOf(posted)).toContain('preview: only poured so far');
  await house.as('ines').tap(posted, 'pour.book');
  const booking = await house.as('ines').form();
  expect(JSON.stringify(booking.blocks)).toContain('"initial_value":"3:2:1"');
  await house.as('ines').submit({ day: '2026-11-27', time: '14:00' });
  expect(wordsOf(await card(house, 'T2 ·'))).toContain('3:2:1');
});

test('a roast of the group is recorded under the digest, and its measured loss is what the next note reckons with', async () => {
  const digest = await digestOf('E');
  // Chirinos lost (280 − 238) / 280 = 15 % in its own roast before; Nubosa Natural has no roast yet (by hand).
  expect(wordsOf(digest)).toContain('roasted together, their loss is not measured yet');
  await house.as('bram').tap(digest, 'table.roasted');
  expect(await formWords('bram')).toContain('Chirinos + Kayanza Hill');
  const swapped = await house.as('bram').submit({ green: '9 kg', roasted: '10.6 kg' });
  expect(JSON.stringify(swapped)).toContain('swapped');
  await house.as('bram').submit({ green: '10 kg', roasted: '8.6 kg' });
  expect(await privately('bram')).toContain('10 kg green in, 8.6 kg out, 14 % loss');
  // The green leaves the store: 60 kg and 45 kg less 10 kg together, less 280 g charged alone (by hand).
  const green = await house.bot.deps.db.selectFrom('coffee').select(['name', 'green_mg']).execute();
  const left = green.flatMap(({ name, green_mg }) => (name === 'Nubosa Natural' ? [] : [green_mg ?? 0]));
  expect(left.reduce((sum, mg) => sum + mg, 0)).toBe(105_000_000 - 280_000 - 10_000_000);

  await house.as('ines').command('/spoon book "Harbour Lamp" 27 nov 14:00 ratios 2:1:1 with @noor');
  await house.moveTo(new Date('2026-11-27T14:00:00Z'));
  const second = await card(house, 'T2 ·');
  await house.as('ines').tap(second, 'table.open');
  await house.as('noor').say('E > D', second.ts);
  await house.as('ines').tap(await card(house, 'T2 ·'), 'table.close');
  await house.as('ines').command('/spoon digest T2 12 kg');
  const note = wordsOf(await card(house, 'Digest T2'));
  // 9 kg roasted at 14 % loss take 10.47 kg green, up to 10 g (by hand); one roast gets ± 2 points.
  expect(note).toContain('*10.47 kg green* in one load');
  expect(note).toContain('loss 14 % from 1 roast here, the next one 12–16 %');
});

test('what to taste first when a coffee runs out, and the margin at a price, are a tap away', async () => {
  const digest = await digestOf('E');
  await house.as('noor').tap(digest, 'table.runsout');
  expect(await formWords('noor')).toContain('no other coffee to stand in');
  await house.as('ines').command('/spoon shelf add "Sipi Falls" base');
  await house.as('noor').tap(digest, 'table.runsout');
  expect(await formWords('noor')).toMatch(/Nearest: \*Sipi Falls: never tasted beside it, the same role/);
  expect(await formWords('noor')).toContain('Taste Sipi Falls alone beside Chirinos');

  await house.as('ines').tap(digest, 'table.margin');
  const words = await formWords('ines');
  const [, cost = ''] = /costs €([\d.]+) per 250 g bag/.exec(words) ?? [];
  expect(JSON.stringify(await house.as('ines').submit({ price: 'a lot' }))).toContain('Give a price like');
  await house.as('ines').submit({ price: '9,50' });
  // Margin as a share of the price: (price − cost) / price (by hand from the cost shown).
  const margin = Math.round((1 - Number(cost) / 9.5) * 10_000) / 100;
  expect(await privately('ines')).toContain(`*${margin} %* of the price`);
  await house.as('ines').tap(digest, 'table.margin');
  await house.as('ines').submit({ price: '1.00' });
  expect(await privately('ines')).toContain('*below its cost*');
});
