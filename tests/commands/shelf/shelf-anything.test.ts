import fc from 'fast-check';
import { expect, test } from 'vitest';
import { seedScenario } from '../../../src/app/seed.js';
import type { Feature } from '../../../src/commands/common/bot.js';
import { house } from '../../../src/commands/house/house.js';
import { recipe } from '../../../src/commands/recipes/recipe.js';
import { shelf } from '../../../src/commands/shelf/shelf.js';
import { words } from '../../../src/commands/words/words.js';
import { UserError } from '../../../src/runtime/errors.js';
import { openDatabase } from '../../../src/store/sqlite/open.js';
import { depsAt } from '../common/deps-at.js';
import { playFeature } from '../common/play-feature.js';

/* Pieces that the grammars know, and some that nobody expects. */
const PIECES = [
  ...[
    'add',
    'take',
    'put',
    'archive',
    'change',
    'green',
    'roasted',
    'loss',
    'price',
    'from',
    'because',
    'rename',
  ],
  ...['"Kayanza Hill"', 'chirinos', 'nubosa', 'harbour', '"Harbour Lamp"', 'dock rope', 'lemon', 'woody'],
  ...[
    '500g',
    '-200 g',
    '1,2kg',
    '14',
    'oz',
    '50/30/20',
    '2:1:1',
    '30 %',
    '0',
    '999999999',
    '9.40',
    '=',
    '+',
    '-',
  ],
  ...['tue', 'yesterday', '31 feb', '2026-11-24', 'roast days', 'steward', '<@U0BRAM>', 'drums', 'default'],
  ...['"', '“', '', '\u202e', '\u0000', '🍋', '<!channel>', '&amp;', '*', 'ß', 'constructor', '__proto__'],
];

const SENTENCE = fc
  .array(
    fc.oneof(
      { weight: 6, arbitrary: fc.constantFrom(...PIECES) },
      fc.string({ unit: 'grapheme', maxLength: 12 }),
    ),
    {
      maxLength: 9,
    },
  )
  .map((pieces) => pieces.join(' '));

test.each<[string, Feature]>([
  ['shelf', shelf],
  ['recipe', recipe],
  ['words', words],
  ['house', house],
])('whatever is typed after `%s` gets an answer Slack accepts or a kind refusal', async (_, feature) => {
  const open = await openDatabase(':memory:');
  const deps = depsAt(open.db, '2026-11-25T09:00:00Z');
  await seedScenario(deps, 'T1', new Map([['ines', 'U0INES']]), 'C1');
  const play = playFeature(feature, deps);
  await fc.assert(
    fc.asyncProperty(SENTENCE, async (sentence) => {
      const answer = await play.type(sentence).catch(kindly);
      if (answer instanceof UserError) expect(answer.message.length).toBeGreaterThan(10);
      else expect(answer.message ?? answer.form).toBeTruthy();
    }),
    { numRuns: 150 },
  );
  await open.close();
});

test.each<[string, Feature, string, string]>([
  ['a coffee', shelf, 'shelf.add', '{}'],
  ['roasted coffee', shelf, 'shelf.roasted', '{"coffee":null}'],
  ['more facts of a coffee', shelf, 'shelf.green', '2'],
  ['coffee taken off', shelf, 'shelf.take', '2'],
  ['a blend', recipe, 'recipe.add', '{}'],
  ['a changed blend', recipe, 'recipe.change', '1'],
  ['the house', house, 'house.first', '{}'],
  ['one fact', house, 'house.fact', '"restWindows"'],
  ['a word', words, 'words.teach', '{}'],
  ['many words', words, 'words.import', '{}'],
])('whatever is filled into the form of %s is kept or kindly refused', async (_, feature, action, value) => {
  const open = await openDatabase(':memory:');
  const deps = depsAt(open.db, '2026-11-25T09:00:00Z');
  await seedScenario(deps, 'T1', new Map([['ines', 'U0INES']]), 'C1');
  const play = playFeature(feature, deps);
  const opened = await play.act(action, value);
  const blocks = opened.form?.blocks.flatMap((block) => block.block_id ?? []) ?? [];
  const filled = fc.array(
    fc.option(
      SENTENCE.map((text) => text.trim()),
      { nil: null },
    ),
    {
      minLength: blocks.length,
      maxLength: blocks.length,
    },
  );
  await fc.assert(
    fc.asyncProperty(filled, fc.boolean(), async (texts, all) => {
      const values = blocks.map((block, index): [string, string | null] => [block, texts[index] ?? null]);
      const submitted = Object.fromEntries(all ? values : values.slice(0, 2));
      const answer = await play.submit(opened, submitted).catch(kindly);
      if (answer instanceof UserError) {
        expect(answer.message.length).toBeGreaterThan(10);
        return;
      }
      const unknown = Object.keys(answer.errors ?? {}).filter((block) => !blocks.includes(block));
      expect(unknown).toEqual([]);
      expect(answer.message ?? answer.errors).toBeTruthy();
    }),
    { numRuns: 60 },
  );
  await open.close();
});

function kindly(problem: unknown): UserError {
  if (problem instanceof UserError) return problem;
  throw problem;
}
