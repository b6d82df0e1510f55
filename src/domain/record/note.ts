/** What a taster wrote, as last edited. */
export type Note = {
  readonly id: number;
  readonly tastingId: number;
  /** `thread`: a reply; `form`: written in the note form; `paper`: brought in from paper. */
  readonly source: 'thread' | 'form' | 'paper';
  readonly channel: string;
  /** Slack's own message id; with the channel it names the message. Never a number. */
  readonly ts: string;
  /** The thread it stands in; null for a note that is no message. */
  readonly threadTs: string | null;
  readonly person: string;
  /** The cup in whose thread it was written. */
  readonly homeCupId: number | null;
  /** The cup the taster chose when asked. */
  readonly chosenCupId: number | null;
  readonly text: string;
  /** Written after closing; counted only when the host reopens. */
  readonly late: boolean;
  readonly receivedAt: Date;
};

/** One attribute the note claims for one cup. */
export type NotedMention = {
  readonly cupId: number | null;
  readonly attribute: string;
  readonly polarity: 'present' | 'denied' | 'compared';
  readonly degree: 'slight' | 'plain' | 'strong';
  /** 0–15, the scale of descriptive analysis. */
  readonly intensity: number | null;
  readonly doubt: boolean;
  readonly span: readonly [number, number];
};

/** What a note was understood to say; cups by id. */
export type NoteReading = {
  readonly mentions: readonly NotedMention[];
  readonly order: readonly (readonly number[])[] | null;
  readonly liking: ReadonlyMap<number, number>;
  readonly worst: readonly number[];
  readonly needsCup: boolean;
  readonly unplaced: readonly { readonly words: string; readonly span: readonly [number, number] }[];
};

export type ReadNote = Note & { readonly reading: NoteReading };

/** Somebody who wrote on paper and is nobody in Slack: there is no way to write to them. */
export function isOnPaper(person: string): boolean {
  return person.startsWith('paper:');
}
