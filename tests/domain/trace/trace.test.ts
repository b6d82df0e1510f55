import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import further from '../../../fixtures/published/further.json' with { type: 'json' };
import { type CountedNote, latestWords } from '../../../src/domain/tally/counted.js';
import { tallyTable } from '../../../src/domain/tally/tally.js';
import {
  type BlendTrace,
  compareShares,
  traceBlend,
  traceSentences,
} from '../../../src/domain/trace/trace.js';
import { anyNotes, note } from '../tally/notes.js';
import { SMALL_TREE } from '../tally/small-tree.js';

const PEOPLE = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h', 'i'];
const NAMES = new Map([
  ['peru', 'Chirinos'],
  ['burundi', 'Kayanza Hill'],
  ['costa', 'Nubosa Natural'],
]);
const COMPONENTS = [
  { cup: 'peru', parts: 50 },
  { cup: 'burundi', parts: 30 },
  { cup: 'costa', parts: 20 },
];

type Found = Readonly<Record<string, readonly [peru: number, burundi: number, costa: number, blend: number]>>;

/** A table of nine where the given number of tasters finds each attribute in each cup. */
function table(found: Found, people = PEOPLE) {
  const cups = ['peru', 'burundi', 'costa', 'D'];
  const notes = people.flatMap((taster, index) =>
    cups.map((cup, at) => {
      const words = Object.entries(found).flatMap(([word, counts]) =>
        index < (counts[at] ?? 0) ? [word] : [],
      );
      return note(taster, 1, cup, ...words, 'body');
    }),
  );
  return tallyTable({ cups, words: latestWords(notes), tree: SMALL_TREE });
}

function trace(found: Found, people = PEOPLE) {
  return traceBlend({ blend: 'D', components: COMPONENTS, tally: table(found, people) });
}

function of(found: Found, attribute = 'blueberry', people = PEOPLE) {
  return trace(found, people).attributes.find((each) => each.attribute === attribute);
}

describe('tracing an attribute of 50/30/20', () => {
  test('the expected share is the weighted share of the components', () => {
    const { expected = 0, observed } = of({ blueberry: [3, 0, 9, 4] }) ?? {};
    expect(expected).toBeCloseTo(0.5 * (3 / 9) + 0.3 * 0 + 0.2 * 1, 12);
    expect(observed).toBeCloseTo(4 / 9, 12);
  });

  test('found about as much as expected, it is carried by the component that brings it', () => {
    expect(of({ blueberry: [0, 0, 9, 3] })).toMatchObject({ status: 'carried', carriedBy: ['costa'] });
  });

  test('components that bring alike are named together', () => {
    // 0.5 × 3 = 0.3 × 5 = 1.5.
    expect(of({ blueberry: [3, 5, 0, 3] })?.carriedBy).toEqual(['peru', 'burundi']);
    expect(of({ blueberry: [4, 5, 0, 3] })?.carriedBy).toEqual(['peru']);
  });

  test('all nine find it in Chirinos alone and nobody in the blend: quieted', () => {
    expect(of({ blueberry: [9, 9, 0, 0] })).toMatchObject({ status: 'quieted', carriedBy: ['peru'] });
  });

  test('one finds it in one component and all nine in the blend: lifted', () => {
    expect(of({ blueberry: [0, 1, 0, 9] })).toMatchObject({ status: 'lifted', carriedBy: ['burundi'] });
  });

  test('nobody finds it in a component and five of nine in the blend: new', () => {
    expect(of({ blueberry: [0, 0, 0, 5] })).toMatchObject({ status: 'new', carriedBy: [], expected: 0 });
  });

  test('one or two words in the blend alone are within chance', () => {
    expect(of({ blueberry: [0, 0, 0, 2] })?.status).toBe('within chance');
    expect(of({ blueberry: [2, 0, 0, 1] })?.status).toBe('within chance');
  });

  test('nothing is flagged from three people, whatever they say', () => {
    for (const counts of [
      [0, 0, 0, 2],
      [2, 2, 2, 0],
      [0, 2, 0, 2],
    ] as const) {
      expect(['carried', 'within chance']).toContain(
        of({ blueberry: counts }, 'blueberry', ['a', 'b', 'c'])?.status,
      );
    }
  });

  test('families are traced by distinct taster: lemon in the component, orange in the blend', () => {
    const { families } = trace({ lemon: [9, 9, 9, 0], orange: [0, 0, 0, 8] });
    expect(families.find(({ attribute }) => attribute === 'fruity')).toMatchObject({ status: 'carried' });
  });

  test('a component whose cup nobody noted leaves the difference open', () => {
    const tally = tallyTable({
      cups: ['peru', 'burundi', 'D'],
      words: latestWords(
        PEOPLE.flatMap((taster) => [
          note(taster, 1, 'peru', 'body'),
          note(taster, 1, 'burundi', 'body'),
          note(taster, 1, 'D', 'blueberry'),
        ]),
      ),
      tree: SMALL_TREE,
    });
    const components = [
      { cup: 'peru', parts: 1 },
      { cup: 'costa', parts: 9 },
    ];
    const [blueberry] = traceBlend({ blend: 'D', components, tally }).attributes;
    expect(blueberry?.interval[0]).toBeLessThan(0.1);
    expect(blueberry?.components[1]).toMatchObject({ tasters: 0, noted: 0 });
  });
});

describe('the difference', () => {
  const counts = fc.tuple(fc.nat(12), fc.nat(12), fc.nat(12), fc.nat(12));

  test('lies inside its interval, and shares inside 0–1', () => {
    fc.assert(
      fc.property(counts, ([a, b, c, blend]) => {
        const { expected, observed, difference, interval } = compareShares({ tasters: blend, noted: 12 }, [
          { weight: 0.5, tasters: a, noted: 12 },
          { weight: 0.3, tasters: b, noted: 12 },
          { weight: 0.2, tasters: c, noted: 12 },
        ]);
        expect(expected).toBeGreaterThanOrEqual(0);
        expect(expected).toBeLessThanOrEqual(1);
        expect(difference).toBeCloseTo(observed - expected, 12);
        expect(interval[0]).toBeLessThanOrEqual(difference);
        expect(interval[1]).toBeGreaterThanOrEqual(difference);
        expect(interval[0]).toBeGreaterThanOrEqual(-1 - 1e-12);
        expect(interval[1]).toBeLessThanOrEqual(1 + 1e-12);
      }),
    );
  });

  test('of one cup against another is Newcombe’s interval: 56/70 against 48/80', () => {
    // Newcombe (1998), Statistics in Medicine 17:873–890, Table II, case (a), method 10: 0.0524 to 0.3339.
    const { interval } = compareShares({ tasters: 56, noted: 70 }, [{ weight: 1, tasters: 48, noted: 80 }]);
    expect(interval[0]).toBeCloseTo(0.0524, 4);
    expect(interval[1]).toBeCloseTo(0.3339, 4);
  });

  // confint_proportions_2indep of statsmodels (fixtures/published/further.py).
  test.each(further.newcombe)('$blend against $component of one cup', ({ blend, component, low, high }) => {
    const [tasters = 0, noted = 0] = blend;
    const [found = 0, of = 0] = component;
    const { interval } = compareShares({ tasters, noted }, [{ weight: 1, tasters: found, noted: of }]);
    expect(interval[0]).toBeCloseTo(low, 12);
    expect(interval[1]).toBeCloseTo(high, 12);
  });

  test('of cups that nobody noted is nothing known: no difference, and none ruled out', () => {
    const nobody = { tasters: 0, noted: 0 };
    const { expected, observed, difference, interval } = compareShares(nobody, [{ weight: 1, ...nobody }]);
    expect([expected, observed, difference]).toEqual([0, 0, 0]);
    expect(interval[0]).toBeLessThanOrEqual(-1);
    expect(interval[1]).toBeGreaterThanOrEqual(1);
  });
});

function chanceOf(count: number, trials: number, share: number): number {
  const ways = Array.from({ length: count }, (_, i) => (trials - i) / (i + 1)).reduce((a, b) => a * b, 1);
  return ways * share ** count * (1 - share) ** (trials - count);
}

describe('whatever the notes', () => {
  // Cups A, B and C hold the components of D.
  const parts = [
    { cup: 'A', parts: 50 },
    { cup: 'B', parts: 30 },
    { cup: 'C', parts: 20 },
  ];
  const traceOf = (notes: readonly CountedNote[], label = (cup: string) => cup) =>
    traceBlend({
      blend: label('D'),
      components: parts.map((part) => ({ ...part, cup: label(part.cup) })),
      tally: tallyTable({
        cups: ['A', 'B', 'C', 'D'].map(label),
        words: latestWords(notes),
        tree: SMALL_TREE,
      }),
    });

  test('their order does not matter, nor what tasters are called', () => {
    const cases = anyNotes.chain((notes) =>
      fc.tuple(fc.constant(notes), fc.shuffledSubarray([...notes], { minLength: notes.length })),
    );
    fc.assert(
      fc.property(cases, ([notes, shuffled]) => {
        const renamed = shuffled.map((each) => ({ ...each, taster: [...each.taster].reverse().join('') }));
        expect(traceOf(renamed)).toEqual(traceOf(notes));
      }),
    );
  });

  test('relabelling cups changes nothing but labels', () => {
    const label = (cup: string) => `${'DCBA'.indexOf(cup)}`;
    fc.assert(
      fc.property(anyNotes, (notes) => {
        const renamed = notes.map((each) => ({
          ...each,
          mentions: each.mentions.map((one) => ({ ...one, cup: label(one.cup) })),
        }));
        const relabelled = (traces: BlendTrace['attributes']) =>
          traces.map((trace) => ({
            ...trace,
            carriedBy: trace.carriedBy.map(label),
            components: trace.components.map((component) => ({ ...component, cup: label(component.cup) })),
          }));
        const here = traceOf(notes);
        const there = traceOf(renamed, label);
        expect(there.attributes).toEqual(relabelled(here.attributes));
        expect(there.families).toEqual(relabelled(here.families));
      }),
    );
  });

  test('shares lie in 0–1 and a difference is named only where its interval leaves zero out', () => {
    fc.assert(
      fc.property(anyNotes, (notes) => {
        for (const { expected, observed, interval, status, blend } of traceOf(notes).attributes) {
          for (const share of [expected, observed]) {
            expect(share).toBeGreaterThanOrEqual(0);
            expect(share).toBeLessThanOrEqual(1 + 1e-12);
          }
          if (status === 'lifted' || status === 'new') expect(interval[0]).toBeGreaterThan(0);
          if (status === 'quieted') expect(interval[1]).toBeLessThan(0);
          if (status === 'carried') expect(blend.tasters).toBeGreaterThan(1);
        }
      }),
    );
  });
});

describe('false flags', () => {
  // Every outcome of four cups listed, tasters answering independently and every cup alike.
  test.each([4, 6, 9])('%i tasters flag a blend that is as expected at most 7 times in 100', (noted) => {
    const counts = Array.from({ length: noted + 1 }, (_, count) => count);
    for (const share of [0.05, 0.2, 0.35, 0.5, 0.8]) {
      let flagged = 0;
      for (const blend of counts) {
        for (const a of counts) {
          for (const b of counts) {
            for (const c of counts) {
              const { interval } = compareShares({ tasters: blend, noted }, [
                { weight: 0.5, tasters: a, noted },
                { weight: 0.3, tasters: b, noted },
                { weight: 0.2, tasters: c, noted },
              ]);
              if (interval[0] <= 0 && interval[1] >= 0) continue;
              flagged += [blend, a, b, c].reduce(
                (chance, count) => chance * chanceOf(count, noted, share),
                1,
              );
            }
          }
        }
      }
      expect(flagged).toBeLessThan(0.07);
    }
  });
});

describe('sentences', () => {
  test('name the coffee and how many stand behind it, what comes through first', () => {
    const found: Found = {
      blueberry: [0, 0, 9, 3],
      lemon: [9, 8, 0, 0],
      smoke: [0, 0, 0, 6],
      orange: [0, 1, 0, 9],
    };
    const sentences = traceSentences(trace(found), (cup) => NAMES.get(cup) ?? cup);
    expect(sentences.map(({ text }) => text)).toEqual([
      'Body comes from Chirinos: 9 of 9 find it in the blend, 9 of 9 in Chirinos alone.',
      'Blueberry comes from Nubosa Natural: 3 of 9 find it in the blend, 9 of 9 in Nubosa Natural alone.',
      'Orange comes through beyond its share: 9 of 9 find it in the blend, 1 of 9 in Kayanza Hill alone, which is 30 % of it.',
      'Smoke is new in the blend: 6 of 9 find it there, nobody in a component alone.',
      'Lemon goes quiet in the blend: nobody finds it there, 9 of 9 in Chirinos alone.',
    ]);
  });
});
