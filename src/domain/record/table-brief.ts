import { readNote } from '../notes/read-note.js';
import type { Vocabulary } from '../notes/vocabulary.js';
import { type AttributeTree, attributeTree } from '../tally/counted.js';
import type { LatestWords } from '../tally/latest-words.js';
import { tallyCup } from '../tally/tally.js';
import { type BriefLine, type BriefView, meetBrief } from '../verdict/brief.js';

/** The host's brief as it was read, and how the ratios meet it. A second view beside liking, never part of the verdict. */
export type TableBrief = {
  readonly words: string;
  readonly lines: readonly BriefLine[];
  /** attribute → the host's own words for it, where a phrase speaks of it alone */
  readonly inOwnWords: ReadonlyMap<string, string>;
  /** phrases of the brief that name no flavour the vocabulary knows */
  readonly notUnderstood: readonly string[];
  readonly view: BriefView;
};

/** Reads a brief ("chocolate, heavy body, no sourness") as a note on one cup is read. */
export function readBrief(
  words: string,
  vocabulary: Vocabulary,
): Pick<TableBrief, 'lines' | 'inOwnWords' | 'notUnderstood'> {
  const { mentions } = readNote(words, { cups: [], homeCup: null, blind: false }, vocabulary);
  const wanted = new Map<string, BriefLine>();
  for (const { attribute, polarity, span } of mentions) {
    const absent = polarity === 'denied' || LESS.test(words.slice(0, span[0]));
    wanted.set(attribute, { attribute, want: absent ? 'absent' : 'present' });
  }
  const phrases = phrasesOf(words).map(({ phrase, start, end }) => {
    const about = mentions.filter(({ span }) => span[0] < end && span[1] > start);
    return { phrase, attributes: [...new Set(about.map(({ attribute }) => attribute))] };
  });
  return {
    lines: [...wanted.values()],
    inOwnWords: new Map(
      phrases.flatMap(({ phrase, attributes: [only, ...others] }) =>
        only !== undefined && others.length === 0 ? [[only, phrase] as const] : [],
      ),
    ),
    notUnderstood: phrases.filter(({ attributes }) => attributes.length === 0).map(({ phrase }) => phrase),
  };
}

/**
 * How the ratio cups meet the brief; null when the host gave none.
 *
 * @param said each taster's latest words
 */
export function tableBrief(
  words: string | null,
  ratioCups: readonly string[],
  said: LatestWords,
  vocabulary: Vocabulary,
): TableBrief | null {
  if (words === null || words.trim() === '') return null;
  const read = readBrief(words, vocabulary);
  const tree = briefTree(vocabulary, read.lines);
  const asked = new Set(read.lines.map(({ attribute }) => attribute));
  const isAskedFor = (attribute: string) =>
    [attribute, tree.familyOf(attribute), ...tree.ancestorsOf(attribute)].some((name) => asked.has(name));
  const tallies = ratioCups.map((cup) => tallyCup(cup, said.get(cup) ?? new Map(), tree, isAskedFor));
  return { ...read, words: words.trim(), view: meetBrief(tallies, read.lines) };
}

/** "less bitter" and "not too sweet" ask for little of it. */
const LESS = /\b(?:less|lower|not too|not so|not as)\s+$/i;

type Phrase = { readonly phrase: string; readonly start: number; readonly end: number };

function phrasesOf(words: string): readonly Phrase[] {
  const cuts = [...words.matchAll(/[,;.\n+&]|\b(?:and|but)\b/gi)].map(({ index, 0: cut }) => ({
    from: index,
    to: index + cut.length,
  }));
  const starts = [0, ...cuts.map(({ to }) => to)];
  const ends = [...cuts.map(({ from }) => from), words.length];
  return starts.flatMap((start, index) => {
    const end = ends[index] ?? words.length;
    const phrase = words.slice(start, end).trim();
    return /\p{L}/u.test(phrase) ? [{ phrase, start, end }] : [];
  });
}

/** Who asks for chocolate is served by dark chocolate too: a wanted flavour gathers its own kinds. */
function briefTree(vocabulary: Vocabulary, lines: readonly BriefLine[]): AttributeTree {
  const tree = attributeTree(vocabulary);
  const isFlavour = (name: string) => vocabulary.attributes.get(name)?.kind === 'aroma-flavour';
  return {
    familyOf: tree.familyOf,
    ancestorsOf: (attribute) => {
      const kinds = lines
        .map((line) => line.attribute)
        .filter((wanted) => attribute.endsWith(` ${wanted}`) && isFlavour(attribute));
      return [...new Set([...tree.ancestorsOf(attribute), ...kinds])];
    },
  };
}
