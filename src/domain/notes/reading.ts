/** Whether a note says the cup has the attribute, has not, or only how it stands beside another cup. */
export type Polarity = 'present' | 'denied' | 'compared';

/** How much of it the words claim: "a hint of" is slight, "tons of" is strong, no word at all is plain. */
export type Degree = 'slight' | 'plain' | 'strong';

/**
 * One attribute that a note claims for one cup.
 * `cup` is the cup's label (null in a note on one cup or when no cup was named); `intensity` is on the
 * 0–15 scale of descriptive analysis, null where the words give no degree; `span` holds the offsets
 * [start, end) of the words in the text as given.
 */
export type Mention = {
  readonly cup: string | null;
  readonly attribute: string;
  readonly polarity: Polarity;
  readonly degree: Degree;
  readonly intensity: number | null;
  readonly doubt: boolean;
  readonly span: readonly [number, number];
};

/** Words that seem to describe a taste but are none of the vocabulary's, with their offsets in the text. */
export type Unplaced = { readonly words: string; readonly span: readonly [number, number] };

/** Groups of cup labels, best first, cups within a group tied. */
export type Order = readonly (readonly string[])[];

/**
 * What a note says. `order` of "best: D" is [["D"]]: over every other cup the taster has noted. `worst` lists cups put below all others.
 * `liking` maps cup label to 1–9. `needsCup` is true when a tasting note in a table's thread names no cup.
 */
export type Reading = {
  readonly text: string;
  readonly mentions: readonly Mention[];
  readonly order: Order | null;
  readonly worst: readonly string[];
  readonly liking: Readonly<Record<string, number>>;
  readonly needsCup: boolean;
  readonly unplaced: readonly Unplaced[];
};
