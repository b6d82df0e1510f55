import type { Vocabulary } from '../notes/vocabulary.js';
import type { NotedMention, ReadNote } from '../record/note.js';

/**
 * One attribute a note claims for one cup, as far as counting needs it. Cups and tasters are opaque ids.
 *
 * `compared` ("less bitter than B") says neither that the attribute is there nor that it is not: it is counted
 * apart and never as presence or denial. `intensity` is on any one scale, null when the taster gave none.
 */
export type CountedMention = Pick<NotedMention, 'attribute' | 'polarity' | 'intensity' | 'doubt'> & {
  readonly cup: string;
};

/** A note as counted: of one taster's words on the same attribute of a cup, the latest (`at`, then `id`) counts. */
export type CountedNote = {
  readonly taster: string;
  readonly at: number;
  readonly id: string;
  readonly mentions: readonly CountedMention[];
};

/**
 * What a taster said about the order of the ratio cups, in one message.
 *
 * `order` lists cups from best to worst, cups in the same inner list tied; [["D"]] alone means "best: D", which
 * puts D over every other ratio cup the taster has noted. `liking` is 1–9 by cup. `worst` is the reverse of
 * "best". Later words replace earlier ones about the same cups (see `verdict/taster-ranks.ts`).
 */
export type Placing = {
  readonly taster: string;
  readonly at: number;
  readonly id: string;
  readonly order: readonly (readonly string[])[] | null;
  readonly liking: Readonly<Record<string, number>>;
  readonly worst?: string | null;
};

/** The vocabulary's tree, as far as counting needs it. */
export type AttributeTree = {
  /** the family an attribute belongs to; a family is its own */
  familyOf(attribute: string): string;
  /** subfamilies and family above an attribute, in any order, without the attribute itself */
  ancestorsOf(attribute: string): readonly string[];
};

/** Orders words by when they were written; the message id breaks ties, so that any input order counts alike. */
export function byWriting(
  a: { readonly at: number; readonly id: string },
  b: { readonly at: number; readonly id: string },
): number {
  return a.at - b.at || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);
}

/** Notes that count: not late, and not waiting for their writer to say which cup was meant. */
export function countingNotes(notes: readonly ReadNote[]): readonly ReadNote[] {
  return notes.filter((note) => !note.late && !note.reading.needsCup);
}

/** Notes as the tally counts them, by the mentions whose cup is known; cups and tasters by id. */
export function countedNotes(notes: readonly ReadNote[]): readonly CountedNote[] {
  return notes.map((note) => ({
    ...writing(note),
    mentions: note.reading.mentions.flatMap(({ cupId, attribute, polarity, intensity, doubt }) =>
      cupId === null ? [] : [{ cup: String(cupId), attribute, polarity, intensity, doubt }],
    ),
  }));
}

/** What tasters said about the order and their liking of the cups. */
export function placingsIn(notes: readonly ReadNote[]): readonly Placing[] {
  return notes.flatMap((note) => {
    const { order, liking, worst } = note.reading;
    if (order === null && liking.size === 0 && worst.length === 0) return [];
    return [
      {
        ...writing(note),
        order: order?.map((group) => group.map(String)) ?? null,
        liking: Object.fromEntries(liking),
        worst: worst[0] === undefined ? null : String(worst[0]),
      },
    ];
  });
}

/** The vocabulary's tree, as the tally rolls it up. */
export function attributeTree(vocabulary: Vocabulary): AttributeTree {
  return {
    familyOf: (attribute) => vocabulary.attributes.get(attribute)?.family ?? attribute,
    ancestorsOf: (attribute) => {
      const entry = vocabulary.attributes.get(attribute);
      if (!entry) return [];
      return [entry.subfamily, entry.family].filter(
        (name): name is string => name !== null && name !== attribute,
      );
    },
  };
}

/**
 * Who wrote a note and when: Slack's message ids carry the second of writing, and an edit keeps the place of the
 * words it corrects.
 */
function writing({ person, ts, receivedAt, id }: ReadNote) {
  const seconds = Number.parseFloat(ts);
  const at = Number.isFinite(seconds) ? seconds : receivedAt.getTime() / 1000;
  return { taster: person, at, id: String(id).padStart(12, '0') };
}

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

type OwnWords = { readonly words: Map<string, Word>; readonly compared: Set<string> };

/**
 * Reduces notes to each taster's latest word. Someone who mentions lemon five times counts once, and someone who
 * takes lemon back counts as a denial. The order in which notes are given does not matter.
 */
export function latestWords(notes: readonly CountedNote[]): LatestWords {
  const cups = new Map<string, Map<string, OwnWords>>();
  for (const { taster, mentions } of [...notes].sort(byWriting)) {
    for (const mention of mentions) {
      const { cup, attribute, polarity } = mention;
      const tasters = cups.get(cup) ?? new Map<string, OwnWords>();
      cups.set(cup, tasters);
      const said = tasters.get(taster) ?? { words: new Map<string, Word>(), compared: new Set<string>() };
      tasters.set(taster, said);
      if (polarity === 'compared') said.compared.add(attribute);
      else said.words.set(attribute, standingWord(said.words.get(attribute), mention));
    }
  }
  return cups;
}
