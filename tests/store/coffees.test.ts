import { afterEach, beforeEach, expect, test } from 'vitest';
import {
  archiveCoffee,
  type CoffeeFacts,
  coffeesById,
  findCoffee,
  insertCoffee,
  listCoffees,
  updateCoffee,
} from '../../src/store/coffees.js';
import { type OpenDatabase, openDatabase } from '../../src/store/sqlite/open.js';

const AT = new Date('2026-11-25T09:00:00Z');
const KAYANZA: CoffeeFacts = {
  name: 'Kayanza Hill',
  origin: 'Burundi',
  process: 'washed',
  role: 'sweetness',
  level: 'medium',
  soldAlone: true,
  lossBp: 1500,
  greenPriceCents: 860,
  greenMg: 45_000_000,
  moistureBp: 1050,
  densityGPerL: 725,
  screen: 15.5,
  colour: 64,
  flavourAdded: null,
  remarks: 'Second lot',
};

let open: OpenDatabase;
beforeEach(async () => {
  open = await openDatabase(':memory:');
});
afterEach(() => open.close());

function add(facts: Partial<CoffeeFacts> = {}, workspace = 'T1') {
  return insertCoffee(open.db, { ...KAYANZA, ...facts, workspace, who: 'U0INES', at: AT });
}

test('a coffee comes back as it was kept', async () => {
  const id = await add();
  expect(await findCoffee(open.db, 'T1', id)).toEqual({ ...KAYANZA, id });
});

test('coffees are listed by name, whatever the order in which they came', async () => {
  await add({ name: 'Nubosa Natural' });
  await add({ name: 'chirinos' });
  await add();
  const names = (await listCoffees(open.db, 'T1')).map((coffee) => coffee.name);
  expect(names).toEqual(['chirinos', 'Kayanza Hill', 'Nubosa Natural']);
});

test('no other workspace sees it or changes it', async () => {
  const id = await add();
  expect(await findCoffee(open.db, 'T2', id)).toBeNull();
  await updateCoffee(open.db, 'T2', { ...KAYANZA, id, name: 'Taken' });
  await archiveCoffee(open.db, 'T2', id, AT);
  expect((await listCoffees(open.db, 'T1'))[0]?.name).toBe('Kayanza Hill');
});

test('an archived coffee leaves the list but is still known, and its name is free again', async () => {
  const id = await add();
  await archiveCoffee(open.db, 'T1', id, AT);
  expect(await listCoffees(open.db, 'T1')).toEqual([]);
  expect((await coffeesById(open.db, 'T1', [id, 99])).get(id)?.name).toBe('Kayanza Hill');
  const again = await add({ name: 'KAYANZA HILL' });
  expect(again).not.toBe(id);
});

test('two coffees in use cannot have one name, whatever the case', async () => {
  await add();
  await expect(add({ name: 'kayanza hill' })).rejects.toThrow(/UNIQUE/);
});
