import { endsItem } from './boundary.js';
import type { NoteContext } from './note-context.js';
import type { Piece } from './piece.js';

/** Which cups each piece speaks of, and what the note says of the cups' order and liking. */
export type CupAssignment = {
  readonly pieceCups: readonly (readonly (string | null)[])[];
  readonly order: readonly (readonly string[])[] | null;
  readonly worst: readonly string[];
  readonly liking: Readonly<Record<string, number>>;
};

/** Gives every piece the cup named last before it, or the thread's own cup. */
export function assignCups(pieces: readonly Piece[], context: NoteContext): CupAssignment {
  const labels = new Map<string, string>();
  for (const { label, code } of context.cups) {
    labels.set(label.toLowerCase(), label);
    if (code !== undefined) labels.set(code, label);
  }
  let current: string | null = context.homeCup;
  const pieceCups = pieces.map((piece, i) => {
    const label = labels.get(piece.text);
    const before = pieces[i - 1];
    const after = pieces[i + 1];
    const clear = piece.text.length > 1 || (piece.text !== 'a' && piece.text !== 'i');
    const heads = (before === undefined || endsItem(before)) && after !== undefined && endsItem(after);
    if (label !== undefined && (clear || heads)) current = label;
    return [current];
  });
  return { pieceCups, order: null, worst: [], liking: {} };
}
