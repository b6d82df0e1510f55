import { readNote } from '../notes/read-note.js';
import type { Vocabulary } from '../notes/vocabulary.js';
import { type AttributeTree, attributeTree, type LatestWords } from '../tally/counted.js';
import { type CupTally, tallyCup } from '../tally/tally.js';

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
  const tallies = ratioCups.map((cup) => tallyCup(cup, said.get(cup) ?? new Map(), tree));
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

/** One line of a host's brief, already read: an attribute, family or subfamily that is wanted or not wanted. */
type BriefLine = { readonly attribute: string; readonly want: 'present' | 'absent' };

/** How one ratio meets one line. */
type LineMet = BriefLine & {
  /** tasters for whom the ratio meets the line: who find a wanted attribute, who do not find an unwanted one */
  readonly tasters: number;
  readonly noted: number;
};

/** How one ratio meets the whole brief. */
type BriefMet = {
  readonly id: string;
  /** mean of the lines' shares of tasters, 0..1; null when nobody noted the ratio */
  readonly met: number | null;
  readonly lines: readonly LineMet[];
};

/** The brief beside the table: a second view, never part of the verdict. */
type BriefView = {
  /** best met first; level ones keep the order given */
  readonly ratios: readonly BriefMet[];
  /** the ratios that meet it best, several when level */
  readonly best: readonly string[];
};

/** A group counts everyone who found anything in it, so "chocolate" is met by dark chocolate too. */
function lineMet(cup: CupTally, line: BriefLine): LineMet {
  const own = cup.attributes.find(({ attribute }) => attribute === line.attribute);
  const group = [...cup.families, ...cup.subfamilies].find(({ name }) => name === line.attribute);
  const found = Math.max(own?.tasters ?? 0, group?.tasters ?? 0);
  return { ...line, tasters: line.want === 'present' ? found : cup.tasters - found, noted: cup.tasters };
}

/**
 * How well each ratio meets a target in words ("chocolate, heavy body, no sourness"): per line the share of its
 * tasters for whom it does, and the mean of those shares, every line weighing the same. A plain reading of the
 * tally, a rule of this project's own; liking plays no part in it, nor it in the verdict.
 *
 * @param ratios tallies of the ratio cups
 */
export function meetBrief(ratios: readonly CupTally[], brief: readonly BriefLine[]): BriefView {
  const met = ratios.map((cup): BriefMet => {
    const lines = brief.map((line) => lineMet(cup, line));
    const sum = lines.reduce((total, { tasters, noted }) => total + (noted === 0 ? 0 : tasters / noted), 0);
    return { id: cup.cup, met: cup.tasters > 0 && lines.length > 0 ? sum / lines.length : null, lines };
  });
  const ordered = [...met].sort((a, b) => (b.met ?? -1) - (a.met ?? -1));
  const top = ordered[0]?.met ?? null;
  const best = top === null ? [] : met.filter((ratio) => ratio.met !== null && top - ratio.met < 1e-9);
  return { ratios: ordered, best: best.map(({ id }) => id) };
}
