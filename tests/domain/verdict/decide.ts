import type { CountedNote, Placing } from '../../../src/domain/tally/counted.js';
import { rankTable } from '../../../src/domain/verdict/rank-table.js';
import { tasterRanks } from '../../../src/domain/verdict/taster-ranks.js';
import { decideWinner, type WinnerInput } from '../../../src/domain/verdict/verdict.js';

/** Decides a table from its notes and placings. */
export function decideTable({
  notes,
  placings,
  ...input
}: Omit<WinnerInput, 'table'> & {
  readonly notes: readonly CountedNote[];
  readonly placings: readonly Placing[];
}) {
  const ids = input.ratioCups.map(({ id }) => id);
  return decideWinner({ ...input, table: rankTable(ids, tasterRanks(ids, notes, placings)) });
}
