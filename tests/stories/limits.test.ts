import { afterEach, expect, test } from 'vitest';
import { fernhollow } from '../../src/local/scenario.js';
import { insertCoffee } from '../../src/store/coffees.js';
import { insertRecipe } from '../../src/store/recipes.js';
import type { StoryHouse } from './start-house.js';
import { card, one, startStory } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

/** Eighty characters that all grow when they are escaped. */
const LONG = '&<>&<>&<>*_~`'.repeat(7).slice(0, 78);
const CROWD = Array.from({ length: 34 }, (_, index) => ({
  name: `taster${index + 1}`,
  realName: `Taster ${index + 1} with rather a long name`,
  tz: 'Europe/Lisbon',
}));

test('the longest names, twelve cups and forty tasters fit into every message and form', async () => {
  const [channel] = fernhollow.channels;
  if (!channel) throw new Error('the scenario has no channel');
  const members = [...channel.members, ...CROWD.map(({ name }) => name)];
  const scenario = {
    ...fernhollow,
    people: [...fernhollow.people, ...CROWD],
    channels: [{ ...channel, members }],
  };
  house = await startStory({ workspaceOptions: { scenario } });
  await longBlend();
  const ines = house.as('ines');
  const tasters = [...CROWD.map(({ name }) => name), 'noor', 'teo', 'mika', 'sol', 'wren', 'jun'];
  expect(tasters).toHaveLength(40);
  const ratios = '1:1:1 2:1:1 1:2:1 1:1:2 3:2:1 1:2:3 2:3:1 1:3:2';
  await ines.command(
    `/spoon book "${LONG}R" 13 nov 14:00 ratios ${ratios} with ${tasters.map((name) => `@${name}`).join(' ')}`,
  );
  const table = await card(house, 'T1 ·');
  await answerAsk();
  for (const words of [
    '',
    'help',
    'shelf',
    'recipe',
    'house',
    'words',
    'ask',
    'table T1',
    'book',
    'pour T1',
    'note T1',
  ]) {
    await ines.command(`/spoon ${words}`.trim());
  }
  await ines.command(`/spoon recipe "${LONG}R"`);
  await ines.command(`/spoon shelf "${LONG}A"`);
  await ines.openHome();
  await house.moveTo(new Date('2026-11-13T13:50:00Z'));
  await ines.tap(await card(house, 'T1 ·'), 'table.open');
  const cups = (await ines.messages()).filter(({ text }) => text.startsWith('Cup '));
  expect(cups).toHaveLength(12);
  const words =
    'dark chocolate, strawberry, lemon, black tea, brown sugar, full body, winey, blueberry, not sour, hazelnut, toffee';
  for (const name of tasters.slice(0, 12)) {
    for (const cup of cups.slice(0, 4)) {
      await house.client.say({
        as: house.id(name),
        channel: house.channel,
        thread: cup.ts,
        text: `${words}. ${'Long talk. '.repeat(150)}`,
      });
    }
    await house.client.say({
      as: house.id(name),
      channel: house.channel,
      thread: table.ts,
      text: 'E > F > G > H > I > J > K > L > D',
    });
  }
  await house.as('noor').say('lemon '.repeat(400), table.ts);
  await house.as('noor').command('/spoon note T1');
  await house.as('noor').tapForm('note.correct');
  await ines.tap(await card(house, 'T1 ·'), 'tally.show');
  await ines.command('/spoon digest T1');
  await ines.submit({ batch: '120 kg', remarks: 'x'.repeat(500) });
  one(await ines.messages(), 'Digest T1');

  const refused = (await house.client.calls()).filter(({ ok, error }) => !ok && error !== 'already_reacted');
  expect(
    refused.map(({ method, error, args }) => [method, error, JSON.stringify(args).slice(0, 300)]),
  ).toEqual([]);
  const stopped = await house.bot.deps.db
    .selectFrom('notice')
    .select(['key', 'error'])
    .where('state', '=', 'stopped')
    .execute();
  expect(stopped).toEqual([]);
}, 120_000);

async function longBlend(): Promise<void> {
  const { db } = house.bot.deps;
  const at = new Date('2026-11-04T10:00:00Z');
  const who = house.id('ines');
  const workspace = house.bot.workspace;
  const ids: number[] = [];
  for (const letter of ['A', 'B', 'C']) {
    const id = await insertCoffee(db, {
      workspace,
      who,
      at,
      name: LONG + letter,
      origin: LONG,
      process: 'natural',
      role: 'base',
      level: 'light',
      soldAlone: false,
      lossBp: null,
      greenPriceCents: 900,
      greenMg: 500_000,
      moistureBp: null,
      densityGPerL: null,
      screen: null,
      colour: null,
      flavourAdded: LONG,
      remarks: LONG,
    });
    ids.push(id);
  }
  await insertRecipe(db, {
    workspace,
    who,
    at,
    name: `${LONG}R`,
    parts: ids.map((coffeeId, index) => ({ coffeeId, parts: 50 - index * 10, roastGroup: null })),
    groupLossBp: new Map(),
    why: 'first',
    tastingId: null,
  });
}

async function answerAsk(): Promise<void> {
  const bram = house.as('bram');
  for (const ask of (await bram.direct()).filter(({ text }) => text.startsWith('Roast ask'))) {
    await bram.tap(ask, 'ask.accept');
  }
}
