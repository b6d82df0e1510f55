import { afterEach, beforeEach, expect, test } from 'vitest';
import { seedScenario } from '../../../src/app/seed.js';
import { book } from '../../../src/commands/booking/book.js';
import { houseVocabulary } from '../../../src/commands/common/table-notes.js';
import { words } from '../../../src/commands/words/words.js';
import { findAttribute } from '../../../src/domain/notes/vocabulary.js';
import { listHouseWords, saveHouseWord } from '../../../src/store/house.js';
import { type OpenDatabase, openDatabase } from '../../../src/store/sqlite/open.js';
import { depsAt } from '../common/deps-at.js';
import { playFeature, textsOf } from '../common/play-feature.js';

let open: OpenDatabase;
let play: ReturnType<typeof playFeature>;

beforeEach(async () => {
  open = await openDatabase(':memory:');
  play = playFeature(words, depsAt(open.db, '2026-11-25T09:00:00Z'));
});
afterEach(() => open.close());

async function taught() {
  return (await listHouseWords(open.db, 'T1')).map((word) => [word.words, word.attribute]);
}

async function meaning(said: string) {
  return findAttribute(await houseVocabulary(open.db, 'T1'), said);
}

test('a word of the common vocabulary is explained', async () => {
  const said = textsOf(await play.type('lemony'));
  expect(said).toContain('“lemony” means *lemon*.');
  expect(said).toContain('Family: fruity › citrus fruit');
  expect(said).toContain('Part of everybody’s vocabulary');
});

test('an unknown word is offered to be taught', async () => {
  const card = await play.type('"dock rope"');
  expect(textsOf(card)).toContain('I do not know “dock rope” yet');
  const form = await play.tap(card, 'Teach it');
  const done = await play.submit(form, { attribute: 'woody' });
  expect(textsOf(done)).toContain('“dock rope” means *woody* here.');
  expect(await meaning('dock rope')).toBe('woody');
});

test.each([
  ['"dock rope" = woody', 'woody'],
  ['“Dock Rope” = wooden', 'woody'],
  ['dock rope means Woody', 'woody'],
  ['teach dock-rope -> woody', 'woody'],
])('`words %s` teaches it', async (said, attribute) => {
  const card = textsOf(await play.type(said));
  expect(card).toContain('Taught by <@U0INES>, Wed 25 Nov');
  expect(await meaning('dock rope')).toBe(attribute);
});

test('a word that means something else here is asked about, and replaced only on a tap', async () => {
  await play.type('"dock rope" = woody');
  const question = await play.type('"dock rope" = smoky');
  expect(textsOf(question)).toContain('“dock rope” means *woody* here. Shall it mean *smoky* from now on?');
  expect(await meaning('dock rope')).toBe('woody');
  expect(textsOf(await play.tap(question, 'Keep it'))).toContain('means *woody* here');
  await play.tap(question, 'Replace it');
  expect(await meaning('dock rope')).toBe('smoky');
  expect(await taught()).toEqual([['dock rope', 'smoky']]);
});

test('the common vocabulary keeps its meanings', async () => {
  const said = textsOf(await play.type('lemon = woody'));
  expect(said).toContain('is a word of the common vocabulary and keeps its meaning');
  expect(await taught()).toEqual([]);
  expect(await meaning('lemon')).toBe('lemon');
});

test('a form of a common word may get a meaning of its own here, once it is confirmed', async () => {
  const asked = await play.type('rhubarby = woody');
  expect(textsOf(asked)).toContain('“rhubarby” means *rhubarb* here. Shall it mean *woody* from now on?');
  expect(await taught()).toEqual([]);
  await play.tap(asked, 'Replace it');
  expect(await meaning('rhubarby')).toBe('woody');
  expect(await meaning('rhubarb')).toBe('rhubarb');
});

test('teaching what is known already changes nothing', async () => {
  await play.type('"dock rope" = woody');
  expect(textsOf(await play.type('"dock rope" = woody'))).toContain('means that already');
  expect(textsOf(await play.type('lemons = lemon'))).toContain('means that already');
  expect(await taught()).toEqual([['dock rope', 'woody']]);
});

test('an attribute nobody knows is refused with the nearest', async () => {
  await expect(play.type('"dock rope" = wody')).rejects.toMatchObject({
    message: expect.stringContaining('*woody*'),
  });
});

test('a taught word can be forgotten, by tap and by words', async () => {
  await play.type('"dock rope" = woody');
  await play.tap(await play.type('dock rope'), 'Forget it');
  expect(await meaning('dock rope')).toBeNull();
  await play.type('"dock rope" = woody');
  await play.type('forget "dock rope"');
  expect(await taught()).toEqual([]);
  expect(textsOf(await play.type('forget "dock rope"'))).toContain('nothing to forget');
});

test('words come in as CSV, and what clashes is left and shown', async () => {
  await play.type('"dock rope" = woody');
  const form = await play.tap(await play.type(''), 'Import');
  const csv = 'words,attribute\n"Dock rope",smoky\ntarred plank,smoky\nlemon,woody\nquux,nonsense\n';
  const said = textsOf(await play.submit(form, { csv }));
  expect(said).toContain('Taught 1 word.');
  expect(said).toContain('“dock rope” = smoky: means woody here');
  expect(said).toContain('“lemon” = woody: means lemon in the common vocabulary');
  expect(said).toContain('“quux” = nonsense: no attribute I know');
  expect(await taught()).toEqual([
    ['dock rope', 'woody'],
    ['tarred plank', 'smoky'],
  ]);
  await play.submit(form, { csv: 'dock rope;smoky', clash: 'replace' });
  expect(await meaning('dock rope')).toBe('smoky');
});

test('an import without pairs is refused in the form', async () => {
  const form = await play.type('import');
  const refused = await play.submit(form, { csv: ' \n ' });
  expect(Object.keys(refused.errors ?? {})).toEqual(['csv']);
});

test('what is exported can be imported again', async () => {
  await play.type('"dock rope" = woody');
  await play.type('"tarred plank" = smoky');
  const before = await taught();
  const text = textsOf(await play.type('export'));
  const csv = /```\n([\s\S]*?)\n```/.exec(text)?.[1] ?? '';
  for (const [said] of before) await play.type(`forget "${said}"`);
  await play.submit(await play.type('import'), { csv });
  expect(await taught()).toEqual(before);
});

test('a taught word acts at once on the notes of a table that is not decided', async () => {
  const deps = depsAt(open.db, '2026-11-25T09:00:00Z');
  await seedScenario(deps, 'T1', new Map([['ines', 'U0INES']]), 'C1');
  await playFeature(book, deps).type('"Harbour Lamp" 4 dec 14:00');
  const cup = await open.db.selectFrom('cup').selectAll().orderBy('position').executeTakeFirstOrThrow();
  const note = {
    workspace: 'T1',
    tasting_id: cup.tasting_id,
    source: 'thread' as const,
    channel: 'C1',
    ts: '1.000001',
    person: 'U0NOOR',
    home_cup_id: cup.id,
    chosen_cup_id: null,
    text: 'dock rope and lemon',
    edited_ts: null,
    deleted_at: null,
    late: 0,
    received_at: '2026-11-25T09:00:00.000Z',
  };
  await open.db.insertInto('note').values(note).execute();
  const mentions = async () =>
    (await open.db.selectFrom('mention').selectAll().execute()).map((mention) => mention.attribute);
  const said = textsOf(await play.type('"dock rope" = woody'));
  expect(said).toContain('I read 1 note of open tables again.');
  expect(await mentions()).toEqual(['woody', 'lemon']);
  await play.type('forget "dock rope"');
  expect(await mentions()).toEqual(['lemon']);
});

test('hundreds of long words stay within Slack’s limits, page by page', async () => {
  const letters = 'abcdefghij';
  const name = (index: number) => [...String(1000 + index)].map((digit) => letters[Number(digit)]).join('');
  for (let index = 0; index < 200; index += 1) {
    const word = { words: `${name(index)}${'w'.repeat(52)}`, attribute: 'citrus fruit', by: 'U0INES' };
    await saveHouseWord(open.db, { ...word, workspace: 'T1', at: new Date('2026-11-25T09:00:00Z') });
  }
  expect(await taught()).toHaveLength(200);
  const second = await play.tap(await play.type(''), 'Next 20');
  expect(textsOf(second)).toContain('200 words taught here');
  const page = await play.tap(await play.type('export'), 'Next 80');
  expect(textsOf(page)).toContain('Words 81 to 160 of 200');
});
