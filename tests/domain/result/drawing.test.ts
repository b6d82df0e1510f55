import { describe, expect, test } from 'vitest';
import type { Cup } from '../../../src/domain/record/tasting.js';
import {
  placingAltText,
  placingDrawing,
  tallyAltText,
  tallyDrawing,
} from '../../../src/domain/result/drawing.js';
import { type CountedNote, latestWords } from '../../../src/domain/tally/counted.js';
import { tallyTable } from '../../../src/domain/tally/tally.js';
import { note } from '../tally/notes.js';
import { SMALL_TREE } from '../tally/small-tree.js';
import { decideTable } from '../verdict/decide.js';
import { placings, cups as ratioCups } from '../verdict/placings.js';

function cup(id: number, label: string, code: string | null = null): Cup {
  return { id, tastingId: 1, kind: 'ratio', parts: [], position: id, label, code, droppedAt: null };
}

const PEOPLE = ['noor', 'teo', 'mika', 'sol'];

describe('attributes by cup', () => {
  const cups = [cup(1, 'A'), cup(2, 'B')];
  const drawn = (notes: readonly CountedNote[], of = cups) =>
    tallyDrawing(of, {
      tally: tallyTable({ cups: of.map(({ id }) => `${id}`), words: latestWords(notes), tree: SMALL_TREE }),
    });

  test('are dots of the share of tasters, and the words say the same counts', () => {
    const drawing = drawn([
      ...PEOPLE.map((taster) => note(taster, 1, '1', 'lemon', 'no smoke')),
      ...PEOPLE.slice(1).map((taster) => note(taster, 2, '1', 'body')),
      note('noor', 1, '2', 'blueberry'),
      note('teo', 1, '2', 'no blueberry'),
    ]);
    expect(drawing?.attributes).toEqual(['lemon', 'body', 'blueberry']);
    expect(drawing?.dots).toEqual([
      { cup: 'A', attribute: 'lemon', share: 1, tasters: 4, noted: 4 },
      { cup: 'A', attribute: 'body', share: 0.75, tasters: 3, noted: 4 },
      { cup: 'B', attribute: 'blueberry', share: 0.5, tasters: 1, noted: 2 },
    ]);
    expect(drawing === null ? '' : tallyAltText(drawing)).toBe(
      'Attributes by cup. A: lemon 4 of 4, body 3 of 4. B: blueberry 1 of 2.',
    );
  });

  test('name a blind cup by its code, and a cup without words as such', () => {
    const drawing = drawn([note('noor', 1, '1', 'lemon')], [cup(1, 'A', '417'), cup(2, 'B', '902')]);
    expect(drawing === null ? '' : tallyAltText(drawing)).toBe(
      'Attributes by cup. 417: lemon 1 of 1. 902: no words.',
    );
  });

  test('are at most twelve, those that any cup shares most', () => {
    const words = Array.from({ length: 15 }, (_, at) => `word ${String.fromCodePoint(97 + at)}`);
    const notes = PEOPLE.flatMap((taster, index) => [
      note(taster, 1, '1', ...words.slice(0, index < 2 ? 15 : 5)),
    ]);
    expect(drawn(notes)?.attributes).toEqual(words.slice(0, 12));
  });

  test('nobody having noted anything, there is no picture', () => {
    expect(drawn([])).toBeNull();
  });
});

describe('placings', () => {
  const drawn = (said: ReturnType<typeof placings>, ranks: Readonly<Record<string, readonly number[]>>) =>
    placingDrawing((id) => `Cup ${id}`, {
      decision: decideTable({ ratioCups: ratioCups('D', 'E', 'F'), notes: [], placings: said }),
      ranks: new Map(Object.entries(ranks)),
    });

  test('are dots at the mean rank with Student’s interval, inside the ranks there are', () => {
    const said = [...placings('D > E > F', 4), ...placings('E > D > F', 2)];
    const drawing = drawn(said, { D: [1, 1, 1, 1, 2, 2], E: [2, 2, 2, 2, 1, 1], F: [3, 3, 3, 3, 3, 3] });
    // t.test(c(1, 1, 1, 1, 2, 2)) in R: 0.791 to 1.875, and 1 is the best rank there is.
    expect(drawing?.worst).toBe(3);
    const [d, e, f] = drawing?.ratios ?? [];
    expect(d?.low).toBe(1);
    expect(d?.high).toBeCloseTo(1.875, 3);
    expect(e?.low).toBeCloseTo(1.125, 3);
    expect(f).toMatchObject({ mean: 3, low: 3, high: 3 });
    expect(drawing === null ? '' : placingAltText(drawing)).toBe(
      'How the ratios stand, 1 is best; in brackets the 95 % interval. Cup D: mean rank 1.33 (1 to 1.9) from 6 tasters. ' +
        'Cup E: mean rank 1.67 (1.1 to 2.2) from 6 tasters. Cup F: mean rank 3, the same from all 6 tasters.',
    );
  });

  test('of one taster claim no interval', () => {
    const drawing = drawn(placings('D > E', 1), { D: [1], E: [2] });
    expect(drawing === null ? '' : placingAltText(drawing)).toBe(
      'How the ratios stand, 1 is best; in brackets the 95 % interval. Cup D: mean rank 1 from one taster. Cup E: mean rank 2 from one taster.',
    );
  });

  test('of a single ratio, or of nobody, are no picture', () => {
    expect(drawn([], {})).toBeNull();
  });
});
