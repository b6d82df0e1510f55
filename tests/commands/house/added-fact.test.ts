import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { house } from '../../../src/commands/house/house.js';
import { FACT_GROUPS } from '../../../src/domain/house/fact.js';
import { DEFAULT_HOUSE, factExample, parseFact, showFacts } from '../../../src/domain/house/house-facts.js';
import { loadHouse } from '../../../src/store/house.js';
import { type OpenDatabase, openDatabase } from '../../../src/store/sqlite/open.js';
import { depsAt } from '../common/deps-at.js';
import { playFeature, textsOf } from '../common/play-feature.js';

/* One entry more in the list of the table's facts, and nothing else anywhere. */
vi.mock('../../../src/domain/house/table-facts.js', async (importOriginal) => {
  const original = await importOriginal<typeof import('../../../src/domain/house/table-facts.js')>();
  const { fact, numberIn, OURS, whole } = await import('../../../src/domain/house/fact.js');
  const rinseCups = fact(whole(1, 9).default(3), {
    ...numberIn(' rinses'),
    called: ['rinse cups', 'rinsing'],
    group: 'table',
    source: OURS,
  });
  return { TABLE_FACTS: { ...original.TABLE_FACTS, rinseCups } };
});

let open: OpenDatabase;
let play: ReturnType<typeof playFeature>;

beforeEach(async () => {
  open = await openDatabase(':memory:');
  play = playFeature(house, depsAt(open.db, '2026-11-25T09:00:00Z'), 'U0INES');
});
afterEach(() => open.close());

test('a fact added by its one entry stands in the card, in its group, in its form and in words', async () => {
  expect(JSON.stringify((await play.type('')).message)).toContain('rinse cups: 3 rinses');
  const group = textsOf(await play.type('the table'));
  expect(group).toContain('*rinse cups:* 3 rinses\n_Default: our choice');
  for (const other of FACT_GROUPS.filter(({ key }) => key !== 'table')) {
    expect(textsOf(await play.type(other.title)), other.title).not.toContain('*rinse cups:*');
  }
  const form = await play.type('rinsing');
  expect(JSON.stringify(form.form?.blocks)).toContain('"block_id":"rinseCups"');
  expect(textsOf(await play.submit(form, { rinseCups: '4' }))).toContain('rinse cups: 4 rinses');
  expect(textsOf(await play.type('rinse cups 5'))).toContain('rinse cups: 5 rinses');
  expect(await loadHouse(open.db, 'T1')).toMatchObject({ rinseCups: 5 });
  expect(textsOf(await play.type('rinse cups default'))).toContain(
    'Back to the default: rinse cups 3 rinses',
  );
  await expect(play.type('rinse cups 12')).rejects.toMatchObject({ input: 'rinseCups' });
});

test('every fact stands in one group, has an input of its own and is read from its own example', async () => {
  const facts = showFacts(DEFAULT_HOUSE);
  const groups = await Promise.all(FACT_GROUPS.map(async ({ title }) => textsOf(await play.type(title))));
  for (const { name, label } of facts) {
    expect(groups.filter((group) => group.includes(`*${label}:*`)).length, name).toBe(1);
    const inputs = (await play.type(label)).form?.blocks.filter((block) => block.type === 'input');
    expect(
      inputs?.map((input) => input.block_id),
      name,
    ).toEqual([name]);
    const words = factExample(name)
      .slice(label.length)
      .replace('#tasting-table', '<#C0TABLE>')
      .replace(/@(\w+)/gu, (_, person: string) => `<@U0${person.toUpperCase()}>`);
    expect(parseFact(name, words, DEFAULT_HOUSE).ok, `${name}:${words}`).toBe(true);
  }
});
