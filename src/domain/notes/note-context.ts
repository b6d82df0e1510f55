import type { CupName } from './cup-name.js';

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
