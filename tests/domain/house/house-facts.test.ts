import { describe, expect, test } from 'vitest';
import {
  DEFAULT_HOUSE,
  FACT_NAMES,
  findFact,
  HouseFacts,
  parseFact,
  showFacts,
  splitFact,
} from '../../../src/domain/house/house-facts.js';
import { restDaysFor } from '../../../src/domain/house/rest-window.js';

/** Changes a fact of the default house, called as people call it. */
function change(called: string, words: string) {
  const name = findFact(called);
  if (name === null) throw new Error(`No fact is called ${called}.`);
  return parseFact(name, words, DEFAULT_HOUSE);
}

describe('the house on its first day', () => {
  test('has a default for every fact, and says where each comes from', () => {
    const names = Object.keys(HouseFacts.shape).sort();
    expect(Object.keys(DEFAULT_HOUSE).sort()).toEqual(names);
    expect(FACT_NAMES.toSorted()).toEqual(names);
    for (const fact of showFacts(DEFAULT_HOUSE)) expect(fact.source, fact.name).toMatch(/\w{3}/);
  });

  // 55 g/L and 207 mL: SCA Coffee Standards (2018). Losses 13, 15.5 and 18.5 %: between trade figures that disagree.
  // 80 % of capacity: trade magazine. A week of notice, 2.5 points and 50 g: common practice, no source.
  test('goes by the figures of the trade', () => {
    expect(DEFAULT_HOUSE).toMatchObject({
      gramsPerLitre: 55,
      vesselMl: 207,
      lossDefaultsBp: { light: 1300, medium: 1550, dark: 1850 },
      noticeDays: 7,
      scoopTolerancePoints: 2.5,
      spareMg: 50_000,
      scaleStepMg: 100,
    });
    expect(DEFAULT_HOUSE.drums.map((drum) => drum.usableShare)).toEqual([0.8, 0.8]);
  });

  test('shows a source beside a default and none beside what the house has said', () => {
    const changed = { ...DEFAULT_HOUSE, noticeDays: 5 };
    const notice = (house: HouseFacts) => showFacts(house).find((fact) => fact.name === 'noticeDays');
    expect(notice(DEFAULT_HOUSE)).toMatchObject({
      value: '7 days',
      source: 'a week for a standalone roast: common practice, no source',
    });
    expect(notice(changed)).toMatchObject({ value: '5 days', source: null });
  });
});

describe('changing a fact from chat', () => {
  test.each([
    ['roast days', 'tue thu', { roastDays: [2, 4] }],
    ['roast days', 'Mondays and Fridays', { roastDays: [1, 5] }],
    ['time zone', 'Europe/Lisbon', { timeZone: 'Europe/Lisbon' }],
    ['time zone', 'lisbon', { timeZone: 'Europe/Lisbon' }],
    [
      'closed days',
      '2026-12-25 Christmas, 2027-01-01 New Year',
      {
        closedDays: [
          { day: '2026-12-25', name: 'Christmas' },
          { day: '2027-01-01', name: 'New Year' },
        ],
      },
    ],
    ['closed', 'none', { closedDays: [] }],
    ['roaster', '<@U07BRAM>', { roasterPerson: 'U07BRAM' }],
    ['roaster', '<@U07BRAM|bram>', { roasterPerson: 'U07BRAM' }],
    ['stewards', '<@U07INES> <@U07BRAM> <@U07INES>', { stewards: ['U07INES', 'U07BRAM'] }],
    ['cut-off', '15:00', { cutOffHour: 15 }],
    ['notice', '5 days', { noticeDays: 5 }],
    ['bowl', '240 mL', { vesselMl: 240 }],
    ['dose', '60 g/L', { gramsPerLitre: 60 }],
    ['scale step', '0.01 g', { scaleStepMg: 10 }],
    ['spare', '80', { spareMg: 80_000 }],
    ['bag', '12 oz', { bagMg: 340_194 }],
    ['loss', 'light 12.5 dark 19', { lossDefaultsBp: { light: 1250, medium: 1550, dark: 1900 } }],
    ['margin', '55 %', { marginBp: 5500 }],
    ['currency', 'chf', { currency: 'CHF' }],
    ['roasting cost', '3,10', { roastingCostCentsPerKg: 310 }],
    ['units', 'pounds', { unitSystem: 'pounds' }],
    ['scoop tolerance', '3 points', { scoopTolerancePoints: 3 }],
    ['blind', 'yes', { blindByDefault: true }],
    ['format', 'brewed', { formatByDefault: 'brewed' }],
    ['channel', '<#C07TABLE|tasting-table>', { channel: 'C07TABLE' }],
  ])('%s %s', (name, words, facts) => {
    expect(change(name, words)).toMatchObject({ ok: true, house: { ...DEFAULT_HOUSE, ...facts } });
  });

  test('drums are read with their minimum charge, in kilograms or pounds', () => {
    const said = '15 kg drum min 4 kg use 75 %, 1 kg sample';
    expect(change('drums', said)).toMatchObject({
      house: {
        drums: [
          {
            name: '15 kg drum',
            capacityMg: 15_000_000,
            minimumChargeMg: 4_000_000,
            usableShare: 0.75,
            kind: 'production',
          },
          {
            name: '1 kg sample roaster',
            capacityMg: 1_000_000,
            minimumChargeMg: 100_000,
            usableShare: 0.8,
            kind: 'sample',
          },
        ],
      },
    });
    // 33 lb are 14.97 kg.
    expect(change('drums', '33 lb drum')).toMatchObject({
      house: { drums: [{ capacityMg: 14_968_548 }] },
    });
  });

  test('a rest window is replaced and the others stay', () => {
    const parsed = change('rest', 'cupping 2-10, light brewed 5-12');
    expect(parsed).toMatchObject({ ok: true, said: expect.stringContaining('light brewed 5–12 days') });
    const windows = parsed.ok ? parsed.house.restWindows : [];
    expect(windows).toHaveLength(4);
    expect(windows.filter((window) => window.use === 'cupping')).toMatchObject([{ minDays: 2, maxDays: 10 }]);
  });

  test.each([
    ['roast days', 'whenever', 'tue thu'],
    ['roast days', 'tue blursday', 'tue thu'],
    ['time zone', 'Atlantis', 'Europe/Lisbon'],
    ['closed days', 'easter', '2026-12-25'],
    ['drums', 'a big one', '15 kg drum min 3.75 kg'],
    ['drums', '1 kg sample min 5 kg', 'more than it holds'],
    ['rest', 'cupping 9-2', 'comes first'],
    ['rest', 'sideways 1-2', 'cupping 1-14'],
    ['notice', 'soon', 'one number'],
    ['notice', '900', 'does not fit'],
    ['margin', '120 %', 'share of the price'],
    ['currency', 'shells', 'EUR'],
    ['loss', 'light 60', '0 to 40'],
    ['roaster', 'bram', '@bram'],
  ])('“%s %s” is refused kindly', (name, words, why) => {
    expect(change(name, words)).toMatchObject({
      ok: false,
      message: expect.stringContaining(why),
    });
  });

  test('every fact’s own example is understood', () => {
    const ids = new Map([
      ['@bram', '<@U07BRAM>'],
      ['@ines @bram', '<@U07INES> <@U07BRAM>'],
      ['#tasting-table', '<#C07TABLE>'],
    ]);
    for (const { name, label, example } of showFacts(DEFAULT_HOUSE)) {
      expect(findFact(label)).toBe(name);
      expect(change(label, ids.get(example) ?? example), label).toMatchObject({ ok: true });
    }
  });

  test('a fact is found by the ways people call it and by an unmistakable beginning', () => {
    expect(findFact('Holidays')).toBe('closedDays');
    expect(findFact('noticeDays')).toBe('noticeDays');
    expect(findFact('curr')).toBe('currency');
    expect(findFact('b')).toBeNull();
    expect(findFact('mood')).toBeNull();
    expect(findFact('constructor')).toBeNull();
    expect(splitFact('roast days tue thu')).toEqual({
      name: 'roastDays',
      called: 'roast days',
      words: 'tue thu',
    });
    expect(splitFact('bag is 1 kg')).toEqual({ name: 'bagMg', called: 'bag', words: '1 kg' });
    expect(splitFact('good morning')).toBeNull();
  });
});

describe('the rest window', () => {
  const subject = { coffeeId: 3, role: 'highlight', level: 'medium', use: 'brewed' } as const;
  const window = { coffeeId: null, role: null, level: null, use: null, minDays: 1, maxDays: 9 };

  // Cupping from the next day (SCA cupping standards: 8–24 h), filter from 4 days, dark from 2 (roasters' pages).
  test('follows use and level by default', () => {
    expect(restDaysFor({ ...subject, use: 'cupping' }, DEFAULT_HOUSE.restWindows)).toEqual({
      minDays: 1,
      maxDays: 14,
    });
    expect(restDaysFor(subject, DEFAULT_HOUSE.restWindows)).toEqual({ minDays: 4, maxDays: 14 });
    expect(restDaysFor({ ...subject, level: 'dark' }, DEFAULT_HOUSE.restWindows)).toEqual({
      minDays: 2,
      maxDays: 10,
    });
  });

  test('of a coffee comes before that of its role, its level and its use', () => {
    const windows = [
      { ...window, coffeeId: 3, minDays: 8 },
      { ...window, role: 'highlight' as const, minDays: 7 },
      { ...window, level: 'medium' as const, minDays: 6 },
      { ...window, use: 'brewed' as const, minDays: 5 },
      { ...window, minDays: 4 },
    ];
    expect([0, 1, 2, 3, 4].map((from) => restDaysFor(subject, windows.slice(from)).minDays)).toEqual([
      8, 7, 6, 5, 4,
    ]);
  });

  test('that fits nothing leaves the usual rest', () => {
    expect(restDaysFor(subject, [{ ...window, coffeeId: 4, minDays: 8 }])).toEqual({
      minDays: 1,
      maxDays: 14,
    });
  });
});
