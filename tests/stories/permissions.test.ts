import { afterAll, beforeAll, expect, test } from 'vitest';
import { may } from '../../src/domain/record/permission.js';
import { FORMS, OF_A_TABLE, TAPS } from './doors.js';
import { forger } from './forge.js';
import type { StoryHouse } from './start-house.js';
import { startStory } from './tell.js';

/*
 * Who may, through the door. Noor hosts, Ines is the steward, Bram the roaster, Teo was invited, Mika was not.
 * Every button, form and typed word that is not for everybody is first tried by everybody else, rightly
 * signed and with the right ids, and then used by those it is for.
 */

type Cell = {
  readonly how: 'tap' | 'submit' | 'type';
  readonly door: string;
  readonly value?: unknown;
  readonly fields?: Readonly<Record<string, string | readonly string[]>>;
  /** Everybody else is refused. */
  readonly may: readonly string[];
};

const PEOPLE = ['noor', 'ines', 'bram', 'teo', 'mika'];
const T1 = { tasting: 1 };
const HOST = ['noor', 'ines'];
const ROASTER = ['bram', 'ines'];
const STEWARD = ['ines'];
const WRITER = ['teo'];
const FIRST = {
  timeZone: 'Europe/Lisbon',
  roastDays: ['2', '4'],
  roasterPerson: ['U00000BRAM'],
  stewards: ['U00000INES'],
  drums: '15 kg drum min 3.75 kg',
};
const OUTCOME = { green: '280 g', roasted: '238 g', day: '2026-11-04' };

const tap = (door: string, value: unknown, may: readonly string[]): Cell => ({
  how: 'tap',
  door,
  value,
  may,
});
const type = (door: string, may: readonly string[]): Cell => ({ how: 'type', door, may });
const submit = (
  door: string,
  value: unknown,
  fields: NonNullable<Cell['fields']>,
  may: readonly string[],
): Cell => ({
  how: 'submit',
  door,
  value,
  fields,
  may,
});

const WAY = { tasting: 1, coffee: 1, ask: 1 };
/** Before the table opens. */
const BOOKED: readonly Cell[] = [
  tap('table.open', T1, HOST),
  tap('table.close', T1, HOST),
  tap('table.reopen', T1, HOST),
  tap('book.change', T1, HOST),
  tap('book.cancel', T1, HOST),
  submit('book.move', T1, { day: '2026-11-13', time: '15:00' }, HOST),
  tap('pour.form', T1, HOST),
  tap('pour.ratio', { tasting: 1, ratio: [3, 2, 1] }, HOST),
  submit('pour.form', T1, { ratio: '1:2:1' }, HOST),
  tap('tally.export', T1, HOST),
  tap('digest.form', T1, HOST),
  tap('digest.again', T1, HOST),
  submit('digest.decide', T1, { batch: '10 kg' }, HOST),
  tap('table.sign', T1, STEWARD),
  tap('help.retry', T1, HOST),
  tap('ask.accept', { ask: 1 }, ROASTER),
  tap('ask.offer', { ask: 1 }, ROASTER),
  tap('ask.decline', { ask: 1 }, ROASTER),
  tap('ask.roasted', { ask: 1 }, ROASTER),
  tap('ask.missed', { ask: 1 }, ROASTER),
  submit('ask.offer', { ask: 1 }, { day: 'other', other: '2026-11-05' }, ROASTER),
  submit('ask.decline', { ask: 1 }, { because: 'The drum is full' }, ROASTER),
  submit('ask.roasted', { ask: 1 }, OUTCOME, ROASTER),
  tap('ask.agree', { ask: 1 }, HOST),
  tap('ask.withdraw', { ask: 1 }, HOST),
  tap('ask.move', { ...WAY, at: '2026-11-20T14:00:00Z' }, HOST),
  tap('ask.drop', WAY, HOST),
  tap('ask.nearest', { ...WAY, other: 2 }, HOST),
  tap('ask.again', WAY, HOST),
  tap('house.first', {}, STEWARD),
  tap('house.fact', '"noticeDays"', STEWARD),
  tap('house.reset', '"noticeDays"', STEWARD),
  submit('house.first', {}, FIRST, STEWARD),
  submit('house.fact', { fact: 'noticeDays' }, { noticeDays: '5' }, STEWARD),
  type('table T1 open', HOST),
  type('table T1 close', HOST),
  type('table T1 reopen', HOST),
  type('book T1', HOST),
  type('book T1 thu 15:00', HOST),
  type('book T1 cancel', HOST),
  type('pour T1', HOST),
  type('pour T1 3:2:1', HOST),
  type('digest T1', HOST),
  type('digest T1 12 kg', HOST),
  type('house set up', STEWARD),
  type('house notice days', STEWARD),
  type('house notice days 5', STEWARD),
  type('house notice days default', STEWARD),
  type('house steward <@U000000TEO>', STEWARD),
];
/** While it is open; Teo's first note is note 1 and names no cup. */
const OPEN: readonly Cell[] = [
  tap('tally.show', T1, HOST),
  type('tally T1', HOST),
  type('tally T1 export', HOST),
  tap('note.cup', { note: 1, cup: 3 }, WRITER),
  tap('note.correct', { note: 1 }, WRITER),
  submit('note.correct', { note: 1 }, { cup: '2' }, WRITER),
];

let house: StoryHouse;
let forge: ReturnType<typeof forger>;
const used = new Set<string>();
const named = ({ how, door }: Pick<Cell, 'how' | 'door'>) => `${how} ${door}`;

beforeAll(async () => {
  house = await startStory();
  forge = forger(house);
  await house.as('noor').command('/spoon book "Harbour Lamp" 13 nov 14:00 ratios 2:1:1 40/40/20 with @teo');
}, 30_000);
afterAll(() => house.stop());

const attempt = (names: readonly string[], { how, door, value, fields }: Cell) => {
  if (how === 'tap') return forge.tap(names, door, value);
  if (how === 'type') return forge.type(names, door);
  return forge.submit(names, door, value, fields);
};
const REFUSED = /That is for (the|a|whoever)|Only a steward can/;

async function everybodyElseIsRefused(cells: readonly Cell[]): Promise<readonly string[]> {
  const faults: string[] = [];
  for (const cell of cells) {
    const others = PEOPLE.filter((name) => !cell.may.includes(name));
    for (const [index, seen] of (await attempt(others, cell)).entries()) {
      const fault = [
        REFUSED.test(seen.heard) ? '' : `heard “${seen.heard.slice(0, 120)}”`,
        seen.changed ? 'something changed' : '',
        seen.opened ? 'a form opened' : '',
        ...seen.loud,
      ].filter((one) => one !== '');
      if (seen.status !== 200 || fault.length > 0) faults.push(`${others[index]}: ${named(cell)}: ${fault}`);
    }
  }
  return faults;
}

/** One of those it is for uses it; `effect` is what shows that it worked. */
async function worksFor(
  name: string,
  cell: Cell | undefined,
  effect: 'opens' | 'changes' | 'passes',
): Promise<void> {
  if (!cell) throw new Error('no such cell');
  expect(cell.may).toContain(name);
  const [seen] = await attempt([name], cell);
  const worked = effect === 'opens' ? seen?.opened : effect === 'changes' ? seen?.changed : true;
  expect([named(cell), seen?.heard.slice(0, 200), worked]).toEqual([
    named(cell),
    expect.not.stringMatching(REFUSED),
    true,
  ]);
  used.add(named(cell));
}
const cell = (how: Cell['how'], door: string) =>
  [...BOOKED, ...OPEN].find((one) => one.how === how && one.door === door);

const NOBODY = { host: false, steward: false, present: false, roaster: false, writer: false, unkept: false };

test('everything that is not for everybody is tried below, or in the stories of tables asked for elsewhere', () => {
  const tried = new Set([...BOOKED, ...OPEN, ...OF_A_TABLE].map(named));
  const restricted = [
    ...Object.entries(TAPS).map(([door, action]) => ({ name: `tap ${door}`, action })),
    ...Object.entries(FORMS).map(([door, action]) => ({ name: `submit ${door}`, action })),
  ].filter(({ action }) => !may(action, NOBODY));
  expect(restricted.filter(({ name }) => !tried.has(name)).map(({ name }) => name)).toEqual([]);
});

test('before the table opens, everybody else is refused kindly and alone, and nothing changes', async () => {
  expect(await everybodyElseIsRefused(BOOKED)).toEqual([]);
}, 90_000);

test('before the table opens, those it is for open every form', async () => {
  for (const door of ['book.change', 'pour.form'])
    for (const name of HOST) await worksFor(name, cell('tap', door), 'opens');
  for (const door of ['ask.offer', 'ask.decline', 'ask.roasted'])
    for (const name of ROASTER) await worksFor(name, cell('tap', door), 'opens');
  for (const door of ['house.first', 'house.fact']) await worksFor('ines', cell('tap', door), 'opens');
  for (const words of ['book T1', 'pour T1']) await worksFor('noor', cell('type', words), 'opens');
  for (const words of ['house set up', 'house notice days'])
    await worksFor('ines', cell('type', words), 'opens');
}, 30_000);

test('before the table opens, those it is for do all of it', async () => {
  await worksFor('ines', cell('submit', 'house.fact'), 'changes');
  await worksFor('ines', cell('type', 'house notice days default'), 'changes');
  await worksFor('ines', cell('type', 'house notice days 5'), 'changes');
  await worksFor('ines', cell('tap', 'house.reset'), 'changes');
  await worksFor('ines', cell('submit', 'house.first'), 'changes');
  await worksFor('bram', cell('submit', 'ask.offer'), 'changes');
  await worksFor('noor', cell('tap', 'ask.agree'), 'changes');
  await worksFor('bram', cell('tap', 'ask.missed'), 'passes');
  for (const door of ['ask.again', 'ask.nearest', 'ask.move', 'help.retry'])
    await worksFor('noor', cell('tap', door), 'passes');
  await worksFor('bram', cell('submit', 'ask.roasted'), 'passes');
  await worksFor('noor', cell('tap', 'ask.withdraw'), 'passes');
  await worksFor('ines', cell('tap', 'ask.drop'), 'passes');
  await worksFor('bram', cell('tap', 'ask.accept'), 'passes');
  await worksFor('bram', cell('submit', 'ask.decline'), 'passes');
  await worksFor('noor', cell('tap', 'pour.ratio'), 'changes');
  await worksFor('ines', cell('submit', 'pour.form'), 'changes');
  await worksFor('noor', cell('type', 'pour T1 3:2:1'), 'passes');
  await worksFor('ines', cell('submit', 'book.move'), 'changes');
  await worksFor('noor', cell('type', 'book T1 thu 15:00'), 'changes');
  await worksFor('ines', cell('type', 'house steward <@U000000TEO>'), 'changes');
  await house.as('ines').command(`/spoon house stewards <@${house.id('ines')}>`);
}, 60_000);

test('an open table’s tally and a taster’s own note are nobody else’s, and are theirs', async () => {
  await worksFor('ines', cell('type', 'table T1 open'), 'changes');
  const [table] = (await house.as('noor').messages()).filter(({ text }) => text.startsWith('T1 ·'));
  await house.as('teo').say('lemony and bright', table?.ts);
  expect(await everybodyElseIsRefused(OPEN)).toEqual([]);
  await worksFor('teo', cell('tap', 'note.correct'), 'opens');
  await worksFor('teo', cell('tap', 'note.cup'), 'changes');
  await worksFor('teo', cell('submit', 'note.correct'), 'changes');
  await worksFor('noor', cell('tap', 'tally.show'), 'changes');
  await worksFor('ines', cell('type', 'tally T1'), 'passes');
  await worksFor('noor', cell('tap', 'tally.export'), 'changes');
  await worksFor('noor', cell('type', 'tally T1 export'), 'changes');
}, 60_000);

test('closing, reopening and deciding are the host’s and the stewards’; signing off is a steward’s', async () => {
  await worksFor('noor', cell('tap', 'table.close'), 'changes');
  await worksFor('ines', cell('tap', 'table.reopen'), 'changes');
  await worksFor('ines', cell('type', 'table T1 close'), 'changes');
  await worksFor('noor', cell('type', 'table T1 reopen'), 'changes');
  await worksFor('noor', cell('tap', 'digest.form'), 'opens');
  await worksFor('ines', cell('type', 'digest T1'), 'opens');
  const decide = cell('submit', 'digest.decide');
  const [signed] = await forge.submit(['noor'], 'digest.decide', T1, {
    batch: '10 kg',
    winner: '5',
    sign: ['sign'],
  });
  expect([signed?.heard, signed?.changed]).toEqual([expect.stringContaining('That is for a steward'), false]);
  await worksFor('noor', decide, 'changes');
  await worksFor('ines', cell('tap', 'digest.again'), 'changes');
  await worksFor('ines', cell('tap', 'table.sign'), 'passes');
}, 60_000);

test('a table is opened and decided by tap and word as well, and cancelled by both', async () => {
  for (let table = 2; table <= 4; table += 1)
    await house.as('noor').command('/spoon book "Harbour Lamp" 20 nov 14:00 ratios 2:1:1 with @teo');
  const on = (number: number, one: Cell | undefined): Cell | undefined =>
    one && {
      ...one,
      door: one.door.replace('T1', `T${number}`),
      ...(one.value === T1 ? { value: { tasting: number } } : {}),
    };
  await worksFor('noor', on(2, cell('tap', 'table.open')), 'changes');
  await worksFor('noor', on(2, cell('type', 'digest T1 12 kg')), 'changes');
  await worksFor('ines', on(3, cell('type', 'book T1 cancel')), 'changes');
  await worksFor('noor', on(4, cell('tap', 'book.cancel')), 'changes');
  for (const done of ['type digest T2 12 kg', 'type book T3 cancel'])
    if (used.delete(done)) used.add(done.replace(/T\d/, 'T1'));
}, 60_000);

test('everything above was also used by somebody it is for', () => {
  expect([...BOOKED, ...OPEN].map(named).filter((name) => !used.has(name))).toEqual([]);
});
