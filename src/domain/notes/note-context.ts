/**
 * The ways to name a cup of the table: its label (A, B, C…), its three-digit code when blind, the coffee or
 * ratio in it, and what it is on the table. "First cup" follows from its place in the list of cups.
 */
export type CupName = {
  readonly label: string;
  readonly code?: string;
  readonly name?: string;
  readonly kind?: 'component' | 'blend' | 'ratio' | 'pour';
};

/**
 * Where a note was written: the cups on the table (none: the text is a note on one cup), the cup whose
 * thread it is in (null in the table's own thread), and whether the table is blind (then a coffee's name
 * names no cup).
 */
export type NoteContext = {
  readonly cups: readonly CupName[];
  readonly homeCup: string | null;
  readonly blind: boolean;
};
