import type { CountedNote, Placing } from '../tally/counted.js';
import { tasterRanks } from '../verdict/taster-ranks.js';

/** Whom a taster put first, and how many of the others did too. For that taster's eyes only. */
export type PlacingBesideTable = {
  readonly taster: string;
  /** the cup or cups the taster put first */
  readonly first: readonly string[];
  /** others who put (one of) the same first */
  readonly others: number;
  /** others who placed a cup the taster put first beside another one */
  readonly ofOthers: number;
};

type Firsts = {
  readonly taster: string;
  readonly placed: ReadonlySet<string>;
  readonly first: readonly string[];
};

function firstsOf(cups: readonly string[], ranks: readonly (number | null)[]): Omit<Firsts, 'taster'> {
  const placed = cups.flatMap((cup, index) => {
    const rank = ranks[index] ?? null;
    return rank === null ? [] : [{ cup, rank }];
  });
  const best = Math.min(...placed.map(({ rank }) => rank));
  return {
    placed: new Set(placed.map(({ cup }) => cup)),
    first: placed.filter(({ rank }) => rank === best).map(({ cup }) => cup),
  };
}

/** Sets each taster's first choice beside the others'. Tasters who tied everything they placed have none. */
export function placingsBesideTable(
  ratioCups: readonly string[],
  notes: readonly CountedNote[],
  placings: readonly Placing[],
): readonly PlacingBesideTable[] {
  const all = tasterRanks(ratioCups, notes, placings)
    .map(({ taster, ranks }): Firsts => ({ taster, ...firstsOf(ratioCups, ranks) }))
    .filter(({ placed }) => placed.size > 1);
  return all
    .filter(({ first, placed }) => first.length < placed.size)
    .map(({ taster, first }) => {
      const able = all.filter(
        (other) => other.taster !== taster && first.some((cup) => other.placed.has(cup)),
      );
      const alike = able.filter((other) => first.some((cup) => other.first.includes(cup)));
      return { taster, first, others: alike.length, ofOthers: able.length };
    });
}

/** One kind sentence about it, naming nobody. */
export function placingSentence(beside: PlacingBesideTable, nameOfCup: (cup: string) => string): string {
  const first = beside.first.map(nameOfCup).join(' and ');
  if (beside.ofOthers === 0) return `You put ${first} first.`;
  const all = beside.ofOthers === 1 ? 'the one other taster' : `the ${beside.ofOthers} others`;
  if (beside.others === 0) return `You put ${first} first, unlike ${all}: a preference, not a mistake.`;
  if (beside.others < beside.ofOthers)
    return `You put ${first} first, and so did ${beside.others} of ${all}.`;
  return `You put ${first} first, and so did ${beside.ofOthers === 1 ? all : `all ${beside.ofOthers} others`}.`;
}
