import { byWriting, type CountedMention, type CountedNote } from './counted.js';

/** A taster's standing word on one attribute of one cup. */
export type Word = {
  readonly present: boolean;
  /** the intensity given with the latest words, null when none was given since the last denial */
  readonly intensity: number | null;
  readonly doubt: boolean;
};

/** What one taster says about one cup: the standing word per attribute, and attributes only compared. */
export type CupWords = { readonly words: Map<string, Word>; readonly compared: Set<string> };

/** cup → taster → what that taster says about it. Whoever wrote anything about a cup is in it. */
export type LatestWords = ReadonlyMap<string, ReadonlyMap<string, CupWords>>;

function standingWord(earlier: Word | undefined, mention: CountedMention): Word {
  const present = mention.polarity === 'present';
  const carried = present && earlier?.present ? earlier.intensity : null;
  return { present, intensity: present ? (mention.intensity ?? carried) : null, doubt: mention.doubt };
}

/**
 * Reduces notes to each taster's latest word. Someone who mentions lemon five times counts once, and someone who
 * takes lemon back counts as a denial. The order in which notes are given does not matter.
 */
export function latestWords(notes: readonly CountedNote[]): LatestWords {
  const cups = new Map<string, Map<string, CupWords>>();
  for (const note of [...notes].sort(byWriting)) {
    for (const mention of note.mentions) {
      const said = wordsOf(cups, mention.cup, note.taster);
      if (mention.polarity === 'compared') said.compared.add(mention.attribute);
      else said.words.set(mention.attribute, standingWord(said.words.get(mention.attribute), mention));
    }
  }
  return cups;
}

function wordsOf(cups: Map<string, Map<string, CupWords>>, cup: string, taster: string): CupWords {
  const tasters = cups.get(cup) ?? new Map<string, CupWords>();
  cups.set(cup, tasters);
  const said = tasters.get(taster) ?? { words: new Map<string, Word>(), compared: new Set<string>() };
  tasters.set(taster, said);
  return said;
}
