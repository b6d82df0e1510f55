import fc from 'fast-check';
import { sql } from 'kysely';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { UserError } from '../../src/runtime/errors.js';
import { DOORS, everyField, everyId, goThrough, rowsOf, undone } from './every-door.js';
import { forger } from './forge.js';
import type { StoryHouse } from './start-house.js';
import { card, openTable, startStory } from './tell.js';

/* Old buttons, odd values and other tables' ids: whatever comes, it is refused kindly or means what it says. */

let house: StoryHouse;
let forge: ReturnType<typeof forger>;

beforeAll(async () => {
  house = await startStory();
  forge = forger(house);
  const table = await openTable(house);
  await house.as('teo').say('lemony and bright', table.ts);
  await house.as('noor').command('/spoon book "Harbour Lamp" 20 nov 14:00 ratios 3:2:1 with @teo');
}, 60_000);
afterAll(() => house.stop());

const ODD = [
  '',
  'null',
  '[]',
  '{}',
  '{',
  '"T1"',
  '-1',
  '0',
  '1e99',
  '{"tasting":"1"}',
  '{"tasting":-1}',
  '{"tasting":1.5}',
  '{"__proto__":{"tasting":1}}',
  '\u0000',
  'undefined',
  '<!channel>',
];

test('no value, however odd, is a fault in any button or form, and none that is no id changes a table', async () => {
  const { deps, workspace } = house.bot;
  const who = { workspace, person: house.id('ines') };
  const before = await rowsOf(deps.db, workspace);
  const faults: string[] = [];
  for (const door of DOORS.filter(({ how }) => how !== 'type')) {
    await undone(deps, async (inside) => {
      for (const value of [...ODD, everyId(999_999_999)]) {
        // What needs no value does its work whatever it is given: only its faults count.
        await goThrough(inside, who, door, value, new Map()).catch((error: unknown) => {
          faults.push(`${door.how} ${door.name} with ${value}: ${error}`);
        });
      }
      const after = new Set(await rowsOf(inside.db, workspace));
      const lost = before.filter(
        (row) => /^(tasting|note|cup|ask|lot|coffee|recipe) /.test(row) && !after.has(row),
      );
      if (lost.length > 0 && door.name !== 'privacy.erase')
        faults.push(`${door.how} ${door.name} changed ${lost[0]}`);
    });
  }
  expect(faults).toEqual([]);
}, 60_000);

test('nothing that any form could be filled with is a fault', async () => {
  const { deps, workspace } = house.bot;
  const who = { workspace, person: house.id('ines') };
  const odd = fc.oneof(
    fc.constantFrom(
      '',
      '0',
      '-1',
      '1e309',
      'NaN',
      '9'.repeat(400),
      'a\u0000b',
      '\u202egnihtyna',
      '=1+1',
      '../../etc',
      '2026-02-31',
      '25:99',
      '１２',
      '<@U1>',
    ),
    fc.string({ maxLength: 60, unit: 'grapheme' }),
    fc.array(fc.constantFrom('sign', 'teach', '1', '-1', 'x'), { maxLength: 3 }),
    fc.constant(null),
  );
  const forms = DOORS.filter(({ how }) => how === 'submit');
  const names = [
    ...everyField(1).keys(),
    'because',
    'colour',
    'remarks',
    'brief',
    'tables',
    'loss',
    'why',
    'timeZone',
    'drums',
    'roastDays',
    'stewards',
    'sign',
    'teach',
    'clash',
    'origin',
    'role',
    'level',
    'process',
  ];
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(...forms),
      fc.dictionary(fc.constantFrom(...names), odd),
      async (door, filled) => {
        await undone(deps, async (inside) => {
          const fields = new Map([...everyField(1), ...Object.entries(filled)]);
          const answer = await goThrough(inside, who, door, everyId(1), fields);
          expect(answer instanceof UserError || typeof answer === 'object').toBe(true);
        });
      },
    ),
    { numRuns: 300, seed: 11 },
  );
}, 60_000);

test('nothing that could be typed after any verb is a fault', async () => {
  const { deps, workspace } = house.bot;
  const who = { workspace, person: house.id('noor') };
  const verbs = [
    'book',
    'table',
    'pour',
    'note',
    'tally',
    'digest',
    'ask',
    'shelf',
    'recipe',
    'words',
    'house',
    'help',
    '',
  ];
  const said = fc.oneof(
    fc.string({ maxLength: 80, unit: 'grapheme' }),
    fc
      .array(
        fc.constantFrom(
          'T1',
          'T2',
          '"Harbour Lamp"',
          'fri',
          '14:00',
          '0:0:0',
          '999999:1',
          '50/50/0',
          '-1',
          'ratios',
          'with',
          '<@U1>',
          'by',
          '400g',
          '"',
          '=',
          'forget',
          'add',
          '\u202e',
          '31 feb',
          '25:00',
          'export',
        ),
        { maxLength: 8 },
      )
      .map((words) => words.join(' ')),
  );
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(...verbs), said, async (verb, words) => {
      await undone(deps, async (inside) => {
        await goThrough(inside, who, { how: 'type', name: `${verb} ${words}` }, '', new Map());
      });
    }),
    { numRuns: 300, seed: 12 },
  );
}, 60_000);

test('a button that no longer exists says that it is old, to whoever tapped it alone', async () => {
  for (const action of ['table.burn', 'constructor', '__proto__', 'toString', '', 'table.open\u0000']) {
    const [seen] = await forge.tap(['mika'], action, { tasting: 1 });
    expect(seen).toMatchObject({ status: 200, changed: false, opened: false, loud: [] });
    expect(seen?.heard).toContain('That button is from an older message');
  }
  const [form] = await forge.submit(['mika'], 'constructor', { tasting: 1 }, { text: 'x' });
  expect(form?.heard).toContain('older version of me');
  expect(form).toMatchObject({ status: 200, changed: false, loud: [] });
});

test('an old card’s buttons do nothing to a table that has moved on', async () => {
  const [again] = await forge.tap(['ines'], 'table.open', { tasting: 1 });
  expect(again?.heard).toContain('is open already');
  expect(again?.changed).toBe(false);
  const [late] = await forge.tap(['bram'], 'ask.accept', { ask: 1 });
  expect(late).toMatchObject({ changed: false, loud: [] });
  const [moved] = await forge.tap(['ines'], 'ask.drop', { tasting: 1, coffee: 1 });
  expect(moved?.heard).toContain('has begun or is over');
});

test('a note cannot be counted for a cup of another table', async () => {
  const { rows } = await sql<{ id: number }>`select min(id) as id from cup where tasting_id = 2`.execute(
    house.bot.deps.db,
  );
  const [seen] = await forge.tap(['teo'], 'note.cup', { note: 1, cup: rows[0]?.id });
  expect(seen?.heard).toContain('That cup is no longer on the table');
  expect(seen?.changed).toBe(false);
  const [form] = await forge.submit(
    ['teo'],
    'note.form',
    { tasting: 1 },
    { cup: String(rows[0]?.id), text: 'lime' },
  );
  const { rows: kept } = await sql<{
    home_cup_id: number | null;
  }>`select home_cup_id from note where text = 'lime'`.execute(house.bot.deps.db);
  expect([form?.changed, kept]).toEqual([true, [{ home_cup_id: null }]]);
});

test('another person’s note is neither shown nor changed, also for the host of the table', async () => {
  for (const [how, seen] of [
    ['tap', await forge.tap(['ines'], 'note.correct', { note: 1 })],
    ['submit', await forge.submit(['ines'], 'note.correct', { note: 1 }, { cup: '2' })],
  ] as const) {
    expect([how, seen[0]?.heard]).toEqual([
      how,
      expect.stringContaining('That is for whoever wrote the note'),
    ]);
    expect(seen[0]).toMatchObject({ changed: false, opened: false, loud: [] });
    expect(seen[0]?.heard).not.toContain('lemony');
  }
});

test('nothing that names a person in its value is believed: own data is always the tapper’s own', async () => {
  const [seen] = await forge.tap(['mika'], 'privacy.erase', { person: house.id('teo'), workspace: 'T0' });
  expect(seen?.changed).toBe(false);
  const table = await card(house, 'T1 ·');
  expect((await house.as('teo').thread(table.ts)).some(({ text }) => text === 'lemony and bright')).toBe(
    true,
  );
});

test('while the house has no steward anyone may name one, and nothing else opens', async () => {
  await house.as('ines').command('/spoon house stewards none');
  for (const words of ['table T1 close', 'digest T1 12 kg', 'book T2 cancel', 'pour T1 5:3:1']) {
    const [seen] = await forge.type(['mika'], words);
    expect([words, seen?.heard, seen?.changed]).toEqual([
      words,
      expect.stringContaining('The house has named no steward yet'),
      false,
    ]);
  }
  const [answer] = await forge.tap(['mika'], 'ask.accept', { ask: 1 });
  expect([answer?.heard, answer?.changed]).toEqual([
    expect.stringContaining('That is for the roaster'),
    false,
  ]);
  const [named] = await forge.type(['mika'], `house steward <@${house.id('sol')}>`);
  expect(named?.changed).toBe(true);
  const [after] = await forge.type(['mika'], `house steward <@${house.id('mika')}>`);
  expect([after?.heard, after?.changed]).toEqual([
    expect.stringContaining('Only a steward can change the house'),
    false,
  ]);
});
