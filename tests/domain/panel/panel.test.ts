import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import further from '../../../fixtures/published/further.json' with { type: 'json' };
import { agreementOn, attributeAgreement } from '../../../src/domain/panel/agreement.js';
import {
  placingSentence,
  placingsBesideTable,
  tasterSentences,
  tastersBesideTable,
} from '../../../src/domain/panel/beside-table.js';
import { type CountedNote, latestWords, type Placing } from '../../../src/domain/tally/counted.js';
import { anyNotes, note } from '../tally/notes.js';
import { decideTable } from '../verdict/decide.js';
import { cups as cupsOf, placing, placings } from '../verdict/placings.js';

const nameOfCup = (cup: string) => cup;

describe('how far the panel agrees', () => {
  const notes = ['noor', 'teo', 'mika', 'sol'].flatMap((taster, index) => [
    note(taster, 1, 'A', 'lemon', ...(index < 2 ? ['smoke'] : [])),
    note(taster, 1, 'B', 'body'),
  ]);
  const onOrder = (said: readonly Placing[]) =>
    decideTable({ ratioCups: cupsOf('C', 'D', 'E'), notes, placings: said });

  test('one order from everyone is W = 1; orders that cancel are W = 0', () => {
    expect(onOrder(placings('C > D > E', 5))).toMatchObject({ kendallW: { w: 1, tasters: 5 } });
    const cancelled = [...placings('C > D > E', 3), ...placings('E > D > C', 3)];
    expect(onOrder(cancelled)).toMatchObject({ kendallW: { w: 0 }, p: 1 });
  });

  test('tasters whose placing has gaps are counted apart', () => {
    const some = [...placings('C > D > E', 3), ...placings('C > D', 2)];
    expect(onOrder(some).kendallW).toMatchObject({ tasters: 3 });
    expect(onOrder(some).placed).toHaveLength(5);
    expect(onOrder(placings('C > D > E', 1)).kendallW).toBeNull();
  });

  test('an attribute all find where it is and nobody where it is not is agreed on wholly', () => {
    const [first, ...others] = attributeAgreement(latestWords(notes), ['A', 'B']);
    expect(first).toMatchObject({ attribute: 'body', agreement: 1, kappa: 1, tasters: 4 });
    // Smoke in A: two of four find it, 2 of 6 pairs agree; in B all six pairs agree.
    expect(others.find(({ attribute }) => attribute === 'smoke')?.agreement).toBeCloseTo(8 / 12, 12);
  });
});

describe('whatever the notes', () => {
  const cups = ['A', 'B', 'C', 'D'];
  const back = (taster: string) => [...taster].reverse().join('');
  const agreed = (notes: readonly CountedNote[]) => attributeAgreement(latestWords(notes), cups);

  test('their order does not matter, and other names of tasters change nothing but names', () => {
    const cases = anyNotes.chain((notes) =>
      fc.tuple(fc.constant(notes), fc.shuffledSubarray([...notes], { minLength: notes.length })),
    );
    fc.assert(
      fc.property(cases, ([notes, shuffled]) => {
        const renamed = shuffled.map((each) => ({ ...each, taster: back(each.taster) }));
        expect(agreed(renamed)).toEqual(agreed(notes));
        const there = new Map(tastersBesideTable(cups, renamed).map((each) => [each.taster, each]));
        for (const beside of tastersBesideTable(cups, notes)) {
          expect(there.get(back(beside.taster))).toEqual({ ...beside, taster: back(beside.taster) });
        }
      }),
    );
  });

  test('agreement lies in 0–1 and kappa is never above 1', () => {
    fc.assert(
      fc.property(anyNotes, (notes) => {
        for (const { agreement, kappa } of agreed(notes)) {
          expect(agreement).toBeGreaterThanOrEqual(0);
          expect(agreement).toBeLessThanOrEqual(1);
          expect(kappa ?? 0).toBeLessThanOrEqual(1 + 1e-12);
        }
      }),
    );
  });
});

describe('agreement beyond chance', () => {
  // fleiss_kappa of statsmodels (fixtures/published/further.py).
  test.each(further.kappa)('kappa of $found found of $noted', ({ found, noted, kappa }) => {
    expect(agreementOn(found.map((count) => ({ found: count, noted })))?.kappa).toBeCloseTo(kappa, 12);
  });

  test('cups noted by one person or nobody cannot be agreed on; what nobody could disagree on has no kappa', () => {
    expect(agreementOn([])).toBeNull();
    expect(
      agreementOn([
        { found: 1, noted: 1 },
        { found: 0, noted: 0 },
      ]),
    ).toBeNull();
    expect(agreementOn([{ found: 4, noted: 4 }])).toEqual({ agreement: 1, kappa: null });
  });
});

describe('one taster beside the table', () => {
  const notes = [
    note('noor', 1, 'C', 'lemon', 'tomato'),
    note('teo', 1, 'C', 'lemon', 'body'),
    note('mika', 1, 'C', 'lemon', 'body'),
    note('sol', 1, 'C', 'body'),
  ];
  const [mika, noor] = tastersBesideTable(['C'], notes);

  test('shared, alone and missed are told apart, leaving the taster out of the count', () => {
    expect(noor).toEqual({
      taster: 'noor',
      cups: 1,
      found: 2,
      shared: [{ cup: 'C', attribute: 'lemon', others: 2, ofOthers: 3 }],
      alone: [{ cup: 'C', attribute: 'tomato', others: 0, ofOthers: 3 }],
      missed: [{ cup: 'C', attribute: 'body', others: 3, ofOthers: 3 }],
    });
    expect(mika?.taster).toBe('mika');
  });

  test('the sentences are kind, count without naming anybody else, and rank nobody', () => {
    const told = noor === undefined ? [] : tasterSentences(noor, nameOfCup);
    expect(told).toEqual([
      'You noted 1 cup and found 2 attributes.',
      'The table tasted one of them too, among them lemon in C (2 of the 3 others).',
      'You alone found tomato in C. One taster can be the first to notice something: worth a second sip.',
      'Most others found body in C (3 of the 3 others). If you taste those cups again, see whether you meet it.',
    ]);
    expect(told.join(' ')).not.toMatch(/teo|mika|sol|rank|score|wrong/i);
  });

  test('someone who tasted by themselves hears that there is nothing to compare', () => {
    const [only] = tastersBesideTable(['C'], [note('noor', 1, 'C', 'lemon')]);
    const told = only === undefined ? [] : tasterSentences(only, nameOfCup);
    expect(told.at(-1)).toBe('There were too few other notes on your cups to set yours beside them.');
  });
});

describe('one taster’s first choice beside the others’', () => {
  const said = [
    placing('noor', 'D > E > C'),
    placing('teo', 'D = E > C'),
    placing('mika', 'C > D'),
    placing('sol', 'E > C'),
    placing('wren', 'C = D = E'),
  ];
  const beside = placingsBesideTable(['C', 'D', 'E'], [], said);
  const sentenceFor = (taster: string) =>
    beside.filter((each) => each.taster === taster).map((each) => placingSentence(each, (cup) => cup));

  test('counts only others who placed that cup, a shared first place included', () => {
    expect(beside.find(({ taster }) => taster === 'noor')).toEqual({
      taster: 'noor',
      first: ['D'],
      others: 2,
      ofOthers: 3,
    });
    expect(sentenceFor('noor')).toEqual(['You put D first, and so did 2 of the 3 others.']);
    const agreed = { taster: 'noor', first: ['D'], others: 3, ofOthers: 3 };
    expect(placingSentence(agreed, (cup) => cup)).toBe('You put D first, and so did all 3 others.');
    expect(placingSentence({ ...agreed, others: 1, ofOthers: 1 }, (cup) => cup)).toBe(
      'You put D first, and so did the one other taster.',
    );
  });

  test('someone alone with a choice is not made to feel wrong; someone who tied all is told nothing', () => {
    const alone = placingsBesideTable(['C', 'D'], [], [placing('noor', 'C > D'), placing('teo', 'D > C')]);
    expect(alone.map((each) => placingSentence(each, (cup) => cup))[0]).toBe(
      'You put C first, unlike the one other taster: a preference, not a mistake.',
    );
    expect(sentenceFor('wren')).toEqual([]);
  });
});
