import { byWriting, type CountedMention, type CountedNote } from './counted.js';

/** A taster's standing word on one attribute of one cup. */
export type Word = {
  readonly present: boolean;
  /** the intensity given with the latest words, null when none was given since the last denial */
  readonly intensity: number | null;
  readonly doubt: boolean;
};

/** What one taster says about one cup: the standing word per attribute, and attributes only compared. */
export type CupWords = {
  readonly words: ReadonlyMap<string, Word>;
  readonly compared: ReadonlySet<string>;
};

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
  const cups = new Map<string, Map<string, OwnWords>>();
  for (const { taster, mentions } of [...notes].sort(byWriting)) {
    let at: string | null = null;
    let said: OwnWords | null = null;
    for (const mention of mentions) {
      // A note speaks of one cup for several words on end.
      if (said === null || mention.cup !== at) said = wordsOf(cups, mention.cup, taster);
      at = mention.cup;
      if (mention.polarity === 'compared') said.compared = new Set([...said.compared, mention.attribute]);
      else said.words.set(mention.attribute, standingWord(said.words.get(mention.attribute), mention));
    }
  }
  return cups;
}

/** Few compare, so those who do not share one empty set. */
const NOTHING: ReadonlySet<string> = new Set();

type OwnWords = { readonly words: Map<string, Word>; compared: ReadonlySet<string> };

function wordsOf(cups: Map<string, Map<string, OwnWords>>, cup: string, taster: string): OwnWords {
  const tasters = cups.get(cup) ?? new Map<string, OwnWords>();
  if (tasters.size === 0) cups.set(cup, tasters);
  const said = tasters.get(taster) ?? { words: new Map<string, Word>(), compared: NOTHING };
  tasters.set(taster, said);
  return said;
}
