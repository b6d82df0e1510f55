import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../../src/domain/stats/seeded-random.js';
import { type CountedNote, latestWords } from '../../../src/domain/tally/counted.js';
import { tallyTable } from '../../../src/domain/tally/tally.js';
import { binomialUpperTail } from '../stats/binomial.js';
import { anyNotes, note } from './notes.js';
import { SMALL_TREE } from './small-tree.js';

const CUPS = ['A', 'B', 'C', 'D'];

function tally(notes: readonly CountedNote[], cups: readonly string[] = CUPS) {
  return tallyTable({ cups, words: latestWords(notes), tree: SMALL_TREE });
}

function inCup(notes: readonly CountedNote[], attribute: string, cup = 'A') {
  return tally(notes)
    .cups.find((each) => each.cup === cup)
    ?.attributes.find((each) => each.attribute === attribute);
}

describe('counting tasters', () => {
  test('someone who mentions lemon three times counts once', () => {
    const notes = [
      note('noor', 1, 'A', 'lemon', 'lemon'),
      note('noor', 2, 'A', 'lemon'),
      note('teo', 1, 'A', 'smoke'),
    ];
    expect(inCup(notes, 'lemon')).toMatchObject({ tasters: 1, share: 0.5, denied: 0 });
  });

  test('the latest word counts: present, then denied, is a denial', () => {
    const notes = [note('noor', 1, 'A', 'lemon 4'), note('noor', 2, 'A', 'no lemon')];
    expect(inCup(notes, 'lemon')).toMatchObject({ tasters: 0, share: 0, denied: 1, meanIntensity: null });
    expect(inCup([...notes, note('noor', 3, 'A', 'lemon')], 'lemon')).toMatchObject({
      tasters: 1,
      denied: 0,
      meanIntensity: null,
    });
  });

  test('an intensity stays when lemon is said again without one', () => {
    expect(
      inCup([note('noor', 1, 'A', 'lemon 4'), note('noor', 2, 'A', 'lemon')], 'lemon')?.meanIntensity,
    ).toBe(4);
  });

  test('mean intensity and its spread are over those who gave one', () => {
    const notes = [
      note('noor', 1, 'A', 'lemon 2'),
      note('teo', 1, 'A', 'lemon 4'),
      note('sol', 1, 'A', 'maybe lemon'),
    ];
    expect(inCup(notes, 'lemon')).toMatchObject({ tasters: 3, doubted: 1, meanIntensity: 3 });
    expect(inCup(notes, 'lemon')?.intensitySpread).toBeCloseTo(Math.SQRT2, 12);
    expect(inCup([note('noor', 1, 'A', 'lemon 2')], 'lemon')?.intensitySpread).toBeNull();
  });

  test('mean intensity and spread are the same to the last bit, whoever wrote first', () => {
    const tenths = (order: readonly number[]) =>
      inCup(
        order.map((intensity, at) => ({
          taster: `t${at}`,
          at,
          id: `m${at}`,
          mentions: [{ cup: 'A', attribute: 'lemon', polarity: 'present', intensity, doubt: false }],
        })),
        'lemon',
      );
    // 0.1 + 0.2 + 0.3 is not 0.3 + 0.2 + 0.1 in doubles.
    expect(tenths([0.1, 0.2, 0.3])).toEqual(tenths([0.3, 0.2, 0.1]));
  });

  test('a comparison with another cup is neither presence nor denial', () => {
    const notes: readonly CountedNote[] = [
      note('noor', 1, 'A', 'lemon'),
      {
        taster: 'noor',
        at: 2,
        id: 'x',
        mentions: [{ cup: 'A', attribute: 'lemon', polarity: 'compared', intensity: null, doubt: false }],
      },
    ];
    expect(inCup(notes, 'lemon')).toMatchObject({ tasters: 1, denied: 0, compared: 1 });
  });

  test('someone who noted the cup without this attribute is in the denominator', () => {
    const notes = [note('noor', 1, 'A', 'lemon'), note('teo', 1, 'A', 'smoke'), note('sol', 1, 'B', 'lemon')];
    expect(inCup(notes, 'lemon')).toMatchObject({ tasters: 1, share: 0.5 });
  });

  test('the interval is Wilson’s: 7 of 9', () => {
    const found = ['a', 'b', 'c', 'd', 'e', 'f', 'g'].map((taster) => note(taster, 1, 'A', 'lemon'));
    const others = ['h', 'i'].map((taster) => note(taster, 1, 'A', 'smoke'));
    const [low = 0, high = 0] = inCup([...found, ...others], 'lemon')?.wilson ?? [];
    // prop.test(7, 9, correct = FALSE) in R.
    expect(low).toBeCloseTo(0.4526, 4);
    expect(high).toBeCloseTo(0.9368, 4);
  });
});

describe('rolling up', () => {
  const notes = [
    note('noor', 1, 'A', 'lemon', 'orange', 'blueberry'),
    note('teo', 1, 'A', 'citrus'),
    note('sol', 1, 'A', 'no lemon', 'dark chocolate'),
  ];

  test('a family counts distinct tasters, however many of its words they use', () => {
    const [cup] = tally(notes).cups;
    expect(cup?.families.map(({ name, tasters }) => [name, tasters])).toEqual([
      ['fruity', 2],
      ['cocoa', 1],
    ]);
  });

  test('a subfamily said of itself counts with its attributes', () => {
    const [cup] = tally(notes).cups;
    const citrus = cup?.subfamilies.find(({ name }) => name === 'citrus');
    expect(citrus).toMatchObject({ tasters: 2, attributes: ['citrus', 'lemon', 'orange'] });
  });

  test('a family is never below any of its attributes nor above the sum of them', () => {
    fc.assert(
      fc.property(anyNotes, (any) => {
        for (const cup of tally(any).cups) {
          for (const family of cup.families) {
            const counts = cup.attributes
              .filter((each) => each.family === family.name)
              .map((each) => each.tasters);
            expect(family.tasters).toBeGreaterThanOrEqual(Math.max(...counts));
            expect(family.tasters).toBeLessThanOrEqual(counts.reduce((sum, count) => sum + count, 0));
          }
        }
      }),
    );
  });
});

describe('whatever the notes', () => {
  test('shares lie in 0–1 and inside their interval', () => {
    fc.assert(
      fc.property(anyNotes, (notes) => {
        for (const cup of tally(notes).cups) {
          for (const { share, wilson, tasters, denied } of cup.attributes) {
            expect(share).toBeGreaterThanOrEqual(wilson[0]);
            expect(share).toBeLessThanOrEqual(wilson[1]);
            expect(wilson[0]).toBeGreaterThanOrEqual(0);
            expect(wilson[1]).toBeLessThanOrEqual(1);
            expect(tasters + denied).toBeLessThanOrEqual(cup.tasters);
          }
          for (const { share, wilson } of [...cup.families, ...cup.subfamilies]) {
            expect(share).toBeGreaterThanOrEqual(Math.max(0, wilson[0]));
            expect(share).toBeLessThanOrEqual(Math.min(1, wilson[1]));
          }
        }
      }),
    );
  });

  test('the order of notes does not matter', () => {
    const shuffled = anyNotes.chain((notes) =>
      fc.tuple(fc.constant(notes), fc.shuffledSubarray([...notes], { minLength: notes.length })),
    );
    fc.assert(
      fc.property(shuffled, ([notes, other]) => {
        expect(tally(other)).toEqual(tally(notes));
      }),
    );
  });

  test('taking a note away leaves what was there before it was written', () => {
    const cases = anyNotes.filter((notes) => notes.length > 0);
    fc.assert(
      fc.property(cases, fc.nat(), (notes, pick) => {
        const gone = pick % notes.length;
        const edited = notes.with(gone, { ...(notes[gone] ?? note('noor', 1, 'A')), mentions: [] });
        expect(tally(notes.toSpliced(gone, 1))).toEqual(tally(edited));
      }),
    );
  });

  test('relabelling tasters changes nothing', () => {
    fc.assert(
      fc.property(anyNotes, (notes) => {
        const renamed = notes.map((each) => ({ ...each, taster: [...each.taster].reverse().join('') }));
        expect(tally(renamed)).toEqual(tally(notes));
      }),
    );
  });

  test('relabelling cups changes nothing but labels', () => {
    const label = (cup: string) => `${'DCBA'.indexOf(cup)}-${cup}`;
    fc.assert(
      fc.property(anyNotes, (notes) => {
        const renamed = notes.map((each) => ({
          ...each,
          mentions: each.mentions.map((one) => ({ ...one, cup: label(one.cup) })),
        }));
        const there = tally(renamed, CUPS.toReversed().map(label));
        const here = tally(notes);
        expect(there.cups.toReversed()).toEqual(here.cups.map((each) => ({ ...each, cup: label(each.cup) })));
        const tested = new Map(there.setsApart.attributes.map((each) => [each.attribute, each]));
        for (const { attribute, q, p, pHolm, method } of here.setsApart.attributes) {
          expect(tested.get(attribute)).toMatchObject({ p, pHolm, method });
          if (q !== null) expect(tested.get(attribute)?.q).toBeCloseTo(q, 9);
        }
      }),
      { numRuns: 40 },
    );
  });
});

describe('what sets a cup apart', () => {
  const people = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'];

  test('an attribute that everyone finds in one cup and nobody in the others', () => {
    const notes = people.flatMap((taster) => [
      note(taster, 1, 'A', 'blueberry', 'smoke'),
      note(taster, 1, 'B', 'smoke'),
      note(taster, 1, 'C', 'smoke'),
    ]);
    const { byCup, attributes } = tally(notes, ['A', 'B', 'C']).setsApart;
    expect(byCup.get('A')?.map(({ attribute, direction, tasters: n }) => [attribute, direction, n])).toEqual([
      ['blueberry', 'more', 8],
    ]);
    // Q = (k − 1)(k Σ C² − N²) / (k N − Σ R²) = 2 (3 × 64 − 64) / (24 − 8) = 16.
    expect(attributes.find(({ attribute }) => attribute === 'blueberry')?.q).toBeCloseTo(16, 12);
    expect(attributes.find(({ attribute }) => attribute === 'smoke')).toMatchObject({
      q: null,
      p: 1,
      pHolm: 1,
    });
  });

  test('what one person alone mentions is not tested', () => {
    const notes = people.flatMap((taster) => [note(taster, 1, 'A', 'smoke'), note(taster, 1, 'B', 'lemon')]);
    const { attributes } = tally([...notes, note('a', 2, 'A', 'orange')]).setsApart;
    expect(attributes.map(({ attribute }) => attribute).toSorted()).toEqual(['lemon', 'smoke']);
  });

  test('tasters who skipped a cup are compared on the cups that they noted', () => {
    const notes = [
      ...people.flatMap((taster) => [note(taster, 1, 'A', 'blueberry'), note(taster, 1, 'B', 'smoke')]),
      ...people.slice(0, 3).map((taster) => note(taster, 1, 'C', 'smoke')),
      note('late', 1, 'C', 'smoke'),
    ];
    const { byCup } = tally(notes, ['A', 'B', 'C']).setsApart;
    expect(byCup.get('A')?.[0]).toMatchObject({
      attribute: 'blueberry',
      direction: 'more',
      tasters: 8,
    });
  });

  test('when nothing differs, a table of nine attributes says that something does at most 5 times in 100', () => {
    const draw = seededRandom(41);
    const words = ['lemon', 'orange', 'citrus', 'blueberry', 'chocolate', 'smoke', 'body', 'malt', 'rose'];
    const tables = 120;
    const wrong = Array.from({ length: tables }, (_, table) => {
      const noted = people.flatMap((taster) =>
        CUPS.map((cup) => note(taster, 1, cup, ...words.filter((_word, at) => draw(10) < 1 + (at % 6)))),
      );
      // Every third table has tasters who skipped cups.
      return tally(table % 3 === 0 ? noted.filter(() => draw(5) > 0) : noted).setsApart;
    }).filter(({ attributes }) => attributes.some(({ pHolm }) => pHolm < 0.05)).length;
    // More than this many would come from a true 5 % once in 1,000 runs.
    expect(binomialUpperTail(wrong, tables, [1, 20])).toBeGreaterThan(1e-3);
  });

  test('a table of one cup has nothing to compare', () => {
    expect(tally([note('a', 1, 'A', 'lemon')], ['A']).setsApart.attributes).toEqual([]);
  });
});
