/**
 * One attribute a note claims for one cup, as far as counting needs it. Cups and tasters are opaque ids.
 *
 * `compared` ("less bitter than B") says neither that the attribute is there nor that it is not: it is counted
 * apart and never as presence or denial. `intensity` is on any one scale, null when the taster gave none.
 */
export type CountedMention = {
  readonly cup: string;
  readonly attribute: string;
  readonly polarity: 'present' | 'denied' | 'compared';
  readonly intensity: number | null;
  readonly doubt: boolean;
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
