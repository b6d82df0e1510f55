import { afterEach, beforeEach, expect, test } from 'vitest';
import { house } from '../../../src/commands/house/house.js';
import { drumWords } from '../../../src/domain/house/drum.js';
import { FACT_GROUPS } from '../../../src/domain/house/fact.js';
import { DEFAULT_HOUSE, FACT_NAMES, parseFact } from '../../../src/domain/house/house-facts.js';
import { loadHouse } from '../../../src/store/house.js';
import { type OpenDatabase, openDatabase } from '../../../src/store/sqlite/open.js';
import { depsAt } from '../common/deps-at.js';
import { playFeature, textsOf } from '../common/play-feature.js';

let open: OpenDatabase;
let play: ReturnType<typeof playFeature>;
let stranger: ReturnType<typeof playFeature>;

beforeEach(async () => {
  open = await openDatabase(':memory:');
  const deps = depsAt(open.db, '2026-11-25T09:00:00Z');
  play = playFeature(house, deps, 'U0INES');
  stranger = playFeature(house, deps, 'U0NOOR');
});
afterEach(() => open.close());

test('a house that was told nothing says so and asks in one form what cannot be guessed', async () => {
  const card = await play.type('');
  expect(textsOf(card)).toContain('Nothing is set up yet');
  const form = await play.tap(card, 'Set up');
  const saved = await play.submit(form, {
    timeZone: 'lisbon',
    roastDays: ['2', '5'],
    roasterPerson: 'U0BRAM',
    drums: '12 kg drum min 3 kg\n500 g sample roaster min 50 g',
  });
  expect(textsOf(saved)).toContain('Europe/Lisbon');
  const told = await loadHouse(open.db, 'T1');
  expect(told).toMatchObject({
    timeZone: 'Europe/Lisbon',
    roastDays: [2, 5],
    roasterPerson: 'U0BRAM',
    stewards: ['U0INES'],
  });
  expect(told.drums.map((drum) => [drum.capacityMg, drum.minimumChargeMg, drum.kind])).toEqual([
    [12_000_000, 3_000_000, 'production'],
    [500_000, 50_000, 'sample'],
  ]);
});

test('what the form leaves out is asked for beside the field', async () => {
  const form = await play.tap(await play.type(''), 'Set up');
  const refused = await play.submit(form, { timeZone: 'Europe/Lisbon', roastDays: [], roasterPerson: null });
  expect(Object.keys(refused.errors ?? {}).sort()).toEqual(['roastDays', 'roasterPerson']);
  await expect(
    play.submit(form, { timeZone: 'Atlantis', roastDays: ['2'], roasterPerson: 'U0BRAM' }),
  ).rejects.toMatchObject({ input: 'timeZone' });
  expect(await loadHouse(open.db, 'T1')).toEqual(DEFAULT_HOUSE);
});

test.each([
  ['roast days tue thu sat', { roastDays: [2, 4, 6] }],
  ['roaster <@U0BRAM>', { roasterPerson: 'U0BRAM' }],
  ['notice 5', { noticeDays: 5 }],
  ['currency gbp', { currency: 'GBP' }],
  ['roasting cost 3.20', { roastingCostCentsPerKg: 320 }],
  ['units pounds', { unitSystem: 'pounds' }],
  ['spare 60 g', { spareMg: 60_000 }],
  ['time zone = Europe/Berlin', { timeZone: 'Europe/Berlin' }],
])('`house %s` changes that fact alone', async (words, facts) => {
  expect(textsOf(await play.type(words))).toContain('Kept:');
  expect(await loadHouse(open.db, 'T1')).toEqual({ ...DEFAULT_HOUSE, ...facts });
});

test('`steward` adds one, `stewards` says who they are', async () => {
  await play.type('steward <@U0INES>');
  await play.type('steward <@U0BRAM>');
  expect((await loadHouse(open.db, 'T1')).stewards).toEqual(['U0INES', 'U0BRAM']);
  await play.type('stewards <@U0INES>');
  expect((await loadHouse(open.db, 'T1')).stewards).toEqual(['U0INES']);
});

test('once there are stewards only they may change the house, and anyone may look', async () => {
  await play.type('steward <@U0INES>');
  await expect(stranger.type('notice 1')).rejects.toMatchObject({
    instead: expect.stringContaining('<@U0INES>'),
  });
  await expect(stranger.type('setup')).rejects.toThrow('Only a steward can change the house.');
  const card = await stranger.type('');
  expect(textsOf(card)).not.toContain('Set up');
  expect(textsOf(await stranger.tap(card, 'Roast asks'))).toContain('A steward can change these.');
  expect((await loadHouse(open.db, 'T1')).noticeDays).toBe(7);
});

test('every default says where it comes from, and a told fact can go back to it', async () => {
  const group = await play.tap(await play.type(''), 'Roast asks');
  expect(textsOf(group)).toContain('*notice days:* 7 days\n_Default: a week for a standalone roast');
  await play.type('notice 3');
  const changed = await play.type('roast asks');
  expect(textsOf(changed)).toContain('*notice days:* 3 days');
  await play.tap(changed, 'Default for notice days');
  expect((await loadHouse(open.db, 'T1')).noticeDays).toBe(7);
});

test('every fact stands in its group, and each has a form that Slack accepts', async () => {
  for (const name of FACT_NAMES) {
    const form = await play.act('house.fact', JSON.stringify(name));
    expect(form.form?.callback_id).toBe('house.fact');
  }
  for (const group of FACT_GROUPS) expect((await play.type(group.title)).message).toBeTruthy();
});

test.each([
  ['formatByDefault', 'brewed', { formatByDefault: 'brewed' }],
  ['blindByDefault', 'yes', { blindByDefault: true }],
  ['channel', 'C0TABLE', { channel: 'C0TABLE' }],
  ['stewards', ['U0INES', 'U0BRAM'], { stewards: ['U0INES', 'U0BRAM'] }],
  [
    'closedDays',
    '2026-12-25 Christmas\n2027-01-01 New Year',
    {
      closedDays: [
        { day: '2026-12-25', name: 'Christmas' },
        { day: '2027-01-01', name: 'New Year' },
      ],
    },
  ],
])('%s can be tapped or written in its own form', async (name, value, facts) => {
  const form = await play.act('house.fact', JSON.stringify(name));
  await play.submit(form, { [name]: value });
  expect(await loadHouse(open.db, 'T1')).toMatchObject(facts);
});

test('an unknown fact is said back with an example', async () => {
  await expect(play.type('<colour> of the door')).rejects.toMatchObject({
    message: 'I do not know the house fact “&lt;colour&gt; of the door”.',
    instead: expect.stringContaining('/spoon house roast days tue thu'),
  });
});

test('drums shown in the form read back as the same drums', () => {
  const words = DEFAULT_HOUSE.drums.map(drumWords).join('; ');
  const read = parseFact('drums', words, DEFAULT_HOUSE);
  expect(read.ok && read.house.drums).toEqual(DEFAULT_HOUSE.drums);
});

test('names in facts cannot call the channel', async () => {
  const card = await play.type('closed days 2026-12-25 <!channel>');
  expect(textsOf(card)).toContain('&lt;!channel&gt;');
});
