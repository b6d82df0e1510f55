import fc from 'fast-check';
import type { CountedMention, CountedNote } from '../../../src/domain/tally/counted.js';

/** A mention as a taster would write it: "lemon", "no lemon", "maybe lemon", "lemon 4". */
export function mention(cup: string, text: string): CountedMention {
  const denied = text.startsWith('no ');
  const doubt = text.startsWith('maybe ');
  const [, attribute = '', intensity] = /^(?:no |maybe )?(\D+?)(?: (\d+))?$/.exec(text) ?? [];
  return {
    cup,
    attribute,
    polarity: denied ? 'denied' : 'present',
    intensity: intensity === undefined ? null : Number(intensity),
    doubt,
  };
}

/** A taster's note about one cup. */
export function note(taster: string, at: number, cup: string, ...texts: readonly string[]): CountedNote {
  return { taster, at, id: `${taster}-${at}-${cup}`, mentions: texts.map((text) => mention(cup, text)) };
}

const ATTRIBUTES = ['lemon', 'orange', 'citrus', 'blueberry', 'dark chocolate', 'chocolate', 'smoke'];

const mentions = fc.record<CountedMention>({
  cup: fc.constantFrom('A', 'B', 'C', 'D'),
  attribute: fc.constantFrom(...ATTRIBUTES),
  polarity: fc.constantFrom('present', 'present', 'present', 'denied', 'compared'),
  // Tenths and thirds do not add up alike in every order, as whole numbers would.
  intensity: fc.option(fc.constantFrom(0.7, 1.1, 10 / 3, 4, 6.4, 12), { nil: null }),
  doubt: fc.boolean(),
});

/** Any notes of up to eight tasters, every note with an id of its own. */
export const anyNotes = fc
  .array(
    fc.record({
      taster: fc.constantFrom('noor', 'teo', 'mika', 'sol', 'wren', 'jun', 'ines', 'bram'),
      at: fc.integer({ min: 0, max: 20 }),
      mentions: fc.array(mentions, { maxLength: 4 }),
    }),
    { maxLength: 30 },
  )
  .map((notes): readonly CountedNote[] => notes.map((each, index) => ({ ...each, id: `m${index}` })));
