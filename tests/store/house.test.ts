import { afterEach, beforeEach, expect, test } from 'vitest';
import { DEFAULT_HOUSE } from '../../src/domain/house/house-facts.js';
import { listToldFacts, loadHouse, saveHouse } from '../../src/store/house.js';
import { type OpenDatabase, openDatabase } from '../../src/store/sqlite/open.js';

const AT = new Date('2026-11-25T09:00:00Z');

let open: OpenDatabase;
beforeEach(async () => {
  open = await openDatabase(':memory:');
});
afterEach(() => open.close());

function store(facts: string) {
  const row = { workspace: 'T1', facts_json: facts, updated_at: AT.toISOString(), updated_by: 'U0INES' };
  return open.db.insertInto('house').values(row).execute();
}

test('a house that told nothing has every default', async () => {
  expect(await loadHouse(open.db, 'T1')).toEqual(DEFAULT_HOUSE);
  expect(await listToldFacts(open.db, 'T1')).toEqual(new Set());
});

test('told facts add up, and only they count as told', async () => {
  await saveHouse(open.db, 'T1', { roastDays: [5] }, 'U0INES', AT);
  await saveHouse(open.db, 'T1', { noticeDays: 3 }, 'U0INES', AT);
  expect(await loadHouse(open.db, 'T1')).toEqual({ ...DEFAULT_HOUSE, roastDays: [5], noticeDays: 3 });
  expect(await listToldFacts(open.db, 'T1')).toEqual(new Set(['roastDays', 'noticeDays']));
  expect(await loadHouse(open.db, 'T2')).toEqual(DEFAULT_HOUSE);
});

test('a fact put back to its default no longer counts as told', async () => {
  await saveHouse(open.db, 'T1', { roastDays: [5], noticeDays: 3 }, 'U0INES', AT);
  await saveHouse(open.db, 'T1', { roastDays: undefined }, 'U0INES', AT);
  expect(await loadHouse(open.db, 'T1')).toEqual({ ...DEFAULT_HOUSE, noticeDays: 3 });
});

test.each(['', 'no JSON', '[]', 'null', '7', '{"roastDays":"never","noticeDays":3,"unheardOf":true}'])(
  'whatever is stored (%s), the house loads and keeps what fits',
  async (facts) => {
    await store(facts);
    const house = await loadHouse(open.db, 'T1');
    expect(house.roastDays).toEqual(DEFAULT_HOUSE.roastDays);
    expect(house.noticeDays).toBe(facts.includes('noticeDays') ? 3 : 7);
  },
);
