import { sql } from 'kysely';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Deps } from '../../src/commands/common/bot.js';
import { UserError } from '../../src/runtime/errors.js';
import { OF_A_TABLE } from './doors.js';
import { type Door, everyField, everyId, goThrough, rowsOf, undone } from './every-door.js';
import type { StoryHouse } from './start-house.js';
import { card, openTable, startStory } from './tell.js';

/*
 * A table's channel may be private, and T1 is easily guessed. Ines hosts, Bram roasts for it, Noor was
 * invited, Teo only wrote there, and Jun is the steward; Mika has nothing to do with it.
 */

const BOOKED = '/spoon book "Harbour Lamp" 13 nov 14:00 ratios 2:1:1 40/40/20 with @noor';
const WORD = 'quibblefig';
const TYPED = ['table T1', 'table T1 print', 'note T1', 'note T1 C: lemon'];
const DOORS: readonly Door[] = [
  ...OF_A_TABLE.map(({ how, door }) => ({ how, name: door })),
  ...TYPED.map((name) => ({ how: 'type' as const, name })),
];
const OURS = new Set(['ines', 'bram', 'noor', 'teo', 'jun']);
let house: StoryHouse;
let deps: Deps;

beforeAll(async () => {
  house = await startStory();
  await openTable(house, BOOKED);
  await house.as('teo').say('strawberry', (await card(house, 'Cup C')).ts);
  await house.as('ines').command(`/spoon house stewards <@${house.id('jun')}>`);
  deps = house.bot.deps;
  await sql`update recipe set name = name || ${` ${WORD}`}`.execute(deps.db);
}, 60_000);
afterAll(() => house.stop());

type Gone = { readonly door: string; readonly refused: boolean; readonly shows: boolean };

/** Somebody tries every door of table T1 in this channel (null: in the home tab). */
async function tryAll(name: string, channel: string | null): Promise<readonly Gone[]> {
  const who = { workspace: house.bot.workspace, person: house.id(name) };
  const gone: Gone[] = [];
  for (const door of DOORS) {
    await undone(deps, async (inside) => {
      const value = everyId(1, channel ?? '');
      const answer = await goThrough(inside, who, door, value, everyField(1), channel);
      const refused = answer instanceof UserError && answer.message.includes('whoever is in its channel');
      const said = answer instanceof UserError ? answer.message : JSON.stringify(answer);
      gone.push({ door: `${door.how} ${door.name}`, refused, shows: said.includes(WORD) });
    });
  }
  return gone;
}

const fate = (gone: readonly Gone[], is: (one: Gone) => boolean) => gone.filter(is).map(({ door }) => door);
const every = DOORS.map(({ how, name }) => `${how} ${name}`);

test.each([
  ['another channel', 'C0OTHER'],
  ['direct messages', 'D0OTHER'],
  ['the home tab', null],
])('in %s a table shows and takes nothing from somebody who has no part in it', async (_where, channel) => {
  const before = await rowsOf(deps.db, house.bot.workspace);
  const gone = await tryAll('mika', channel);
  expect(fate(gone, ({ refused }) => refused)).toEqual(every);
  expect(fate(gone, ({ shows }) => shows)).toEqual([]);
  expect(await rowsOf(deps.db, house.bot.workspace)).toEqual(before);
});

test('in its own channel the table is anybody’s', async () => {
  const gone = await tryAll('mika', house.channel);
  expect(fate(gone, ({ refused }) => refused)).toEqual([]);
  expect(fate(gone, ({ shows }) => shows)).toContain('type table T1');
});

test.each([...OURS])('%s, who belongs to the table, may ask from anywhere', async (name) => {
  for (const channel of ['C0OTHER', null]) {
    const gone = await tryAll(name, channel);
    expect(fate(gone, ({ refused }) => refused)).toEqual([]);
    expect(fate(gone, ({ shows }) => shows)).toContain('type table T1');
  }
});

test('the refusal says where to ask, to that person alone', async () => {
  const mika = house.as('mika');
  const { id } = await house.client.dm(mika.id);
  const answer = await mika.command('/spoon table T1', id);
  expect(JSON.stringify(answer)).toContain(`Ask in <#${house.channel}>`);
  expect(JSON.stringify(answer)).not.toContain('Harbour Lamp');
});

test('what is next for somebody leaves out the open table of a channel they are not in', async () => {
  const who = { workspace: house.bot.workspace, person: house.id('mika') };
  const bare: Door = { how: 'type', name: '' };
  const next = async (channel: string) =>
    JSON.stringify(await goThrough(deps, who, bare, '', new Map(), channel));
  expect(await next('C0OTHER')).not.toContain('T1');
  expect(await next(house.channel)).toContain('T1 is open');
});
