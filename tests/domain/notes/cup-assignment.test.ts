import { describe, expect, test } from 'vitest';
import { readNote } from '../../../src/domain/notes/read-note.js';
import { SHIPPED_VOCABULARY } from '../../../src/domain/notes/vocabulary.js';
import { LAYOUTS, type Part } from './cup-layouts.js';
import { CUPS, claims, labelledNotes, readAtTable } from './fixture-notes.js';

const MESSAGES = 300;

/** A small generator of numbers (Park and Miller's minimal standard), so that every run writes the same. */
function numbersFrom(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (state * 48_271) % 2_147_483_647;
    return state % below;
  };
}

/** Words of the fixtures that name one attribute each, with the attribute. */
function sayings(): readonly { words: string; attribute: string }[] {
  return labelledNotes().flatMap(({ text, mentions, context }) => {
    const only = mentions.length === 1 ? mentions[0] : undefined;
    const plain = only?.polarity === 'present' && context.cups.length === 0 && /^[a-z][a-z -]*$/i.test(text);
    return plain && only !== undefined && text.split(' ').length <= 3
      ? [{ words: text, attribute: only.attribute }]
      : [];
  });
}

describe('messages on several cups', () => {
  const pick = numbersFrom(20_261);
  const all = sayings();
  let right = 0;
  let asked = 0;
  const wrong: string[] = [];
  for (let i = 0; i < MESSAGES; i += 1) {
    const layout = LAYOUTS[i % LAYOUTS.length];
    const cups = CUPS.filter(() => pick(3) > 0);
    const start = pick(all.length);
    const told = (cups.length < 2 ? CUPS.slice(1, 4) : cups).map((cup, c) => ({
      cup,
      said: [0, 1].slice(0, 1 + pick(2)).flatMap((n) => all[(start + c * 2 + n) % all.length] ?? []),
    }));
    const parts: readonly Part[] = told.map(({ cup, said }) => ({
      cup,
      words: said.map(({ words }) => words),
    }));
    const text = layout?.write(parts) ?? '';
    const reading = readNote(
      text,
      { cups: CUPS, homeCup: null, blind: layout?.blind === true },
      SHIPPED_VOCABULARY,
    );
    for (const { cup, said } of told) {
      for (const { attribute } of said) {
        asked += 1;
        const found = reading.mentions.some((m) => m.attribute === attribute && m.cup === cup.label);
        if (found) right += 1;
        else wrong.push(`${layout?.name}: ${JSON.stringify(text)} has no ${attribute} for ${cup.label}`);
      }
    }
  }

  test('are written in at least fifteen layouts, with words of the fixtures', () => {
    expect(LAYOUTS.length).toBeGreaterThanOrEqual(15);
    expect(all.length).toBeGreaterThanOrEqual(60);
    expect(asked).toBeGreaterThan(MESSAGES * 2);
  });

  test('have at least 99 of 100 mentions at the right cup', () => {
    expect(right / asked, wrong.slice(0, 12).join('\n')).toBeGreaterThanOrEqual(0.99);
  });
});

describe('whose cup a word belongs to', () => {
  test.each([
    [
      'a cup only compared with is not spoken of',
      'C less bitter than B, lemony',
      ['C bitter compared', 'C lemon'],
    ],
    [
      '"both" speaks of the two cups named last',
      'C lemon, D cocoa, both silky',
      ['C lemon', 'D cocoa', 'C silky', 'D silky'],
    ],
    ['two cups can share their words', 'A and C: plum', ['A plum', 'C plum']],
    ['an attribute can head a list of cups', 'Lemon: A, B. Cocoa: C', ['A lemon', 'B lemon', 'C cocoa']],
    ['the article is no label', 'C: a lemon, a plum', ['C lemon', 'C plum']],
    ['words before any cup wait for it', 'lemon and tea in D', ['D lemon', 'D black tea']],
  ])('%s', (_, text, expected) => {
    expect(claims(readAtTable(text))).toEqual(expected);
  });

  test('in a cup’s own thread words need no label, and another cup can still be named', () => {
    expect(claims(readAtTable('lemon, sweeter than B. B: flat', 'A'))).toEqual([
      'A lemon',
      'A sweet compared',
      'B flat acidity',
    ]);
  });

  test('in the table’s thread a note that names no cup asks for it; talk does not', () => {
    expect(readAtTable('lemon and black tea').needsCup).toBe(true);
    expect(readAtTable('C: lemon').needsCup).toBe(false);
    expect(readAtTable('who has the kettle?').needsCup).toBe(false);
    expect(readAtTable('lemon', 'C').needsCup).toBe(false);
  });

  test('coffee names name cups, but not while the table is blind', () => {
    expect(claims(readAtTable('Chirinos: cocoa'))).toEqual(['A cocoa']);
    expect(readAtTable('Chirinos: cocoa', null, true).needsCup).toBe(true);
    expect(claims(readAtTable('Kayanza is plummy, the last cup jammy'))).toEqual([
      'B plum',
      'E cooked fruit',
    ]);
  });
});

describe('a process as a name', () => {
  const named = [
    { label: 'A', name: 'Chirinos washed' },
    { label: 'B', name: 'Nubosa natural-process' },
  ];
  const read = (text: string, blind = false) =>
    readNote(text, { cups: named, homeCup: null, blind }, SHIPPED_VOCABULARY).mentions.map(
      ({ cup, attribute }) => [cup, attribute],
    );

  test('"the natural" is the one cup whose name says natural', () => {
    expect(read('A tastes like lemon. The natural tastes like strawberry')).toEqual([
      ['A', 'lemon'],
      ['B', 'strawberry'],
    ]);
    expect(read('the natural one is plum')).toEqual([['B', 'plum']]);
    expect(read('washed: lemon\nnatural: strawberry')).toEqual([
      ['A', 'lemon'],
      ['B', 'strawberry'],
    ]);
  });

  test('a natural sweetness names no cup, nor does a process on a blind table', () => {
    expect(read('A: the natural sweetness of plum').map(([cup]) => cup)).not.toContain('B');
    expect(read('The natural tastes like strawberry', true)).toEqual([[null, 'strawberry']]);
  });
});
