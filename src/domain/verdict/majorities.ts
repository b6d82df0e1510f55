import type { Wins } from './rank-table.js';
import type { Standing } from './standings.js';

/** Tasters who put a over b less those who put b over a. */
function margin(wins: Wins, a: number, b: number): number {
  return (wins[a]?.[b] ?? 0) - (wins[b]?.[a] ?? 0);
}

/** reach[a].has(b): b can be reached from a along the relation, in one step or more. */
function reachability(
  size: number,
  related: (a: number, b: number) => boolean,
): readonly ReadonlySet<number>[] {
  const indices = Array.from({ length: size }, (_, index) => index);
  return indices.map((start) => {
    const nextTo = (from: number) => indices.filter((next) => next !== from && related(from, next));
    // What is added to a set while it is gone through is gone through as well.
    const reached = new Set(nextTo(start));
    for (const from of reached) for (const next of nextTo(from)) reached.add(next);
    return reached;
  });
}

/** The shortest way along majorities from a cup back to itself, [A, B, C] for A over B over C over A. */
function shortestCircle(wins: Wins, start: number): readonly number[] {
  let paths: readonly (readonly number[])[] = [[start]];
  const visited = new Set([start]);
  while (paths.length > 0) {
    const next: (readonly number[])[] = [];
    for (const path of paths) {
      const end = path.at(-1) ?? start;
      if (path.length > 2 && margin(wins, end, start) > 0) return path;
      for (let cup = 0; cup < wins.length; cup += 1) {
        if (visited.has(cup) || margin(wins, end, cup) <= 0) continue;
        visited.add(cup);
        next.push([...path, cup]);
      }
    }
    paths = next;
  }
  return [];
}

/** Whether majorities run in a circle anywhere. */
export function isCircular(wins: Wins): boolean {
  return reachability(wins.length, (a, b) => margin(wins, a, b) > 0).some((reached, cup) => reached.has(cup));
}

/**
 * Where majorities run in a circle (A over B, B over C, C over A): one circle for each group of cups that are
 * tangled so, told from the cup that stands best in `preferred` (all cup indices, best first).
 */
export function majorityCircles(wins: Wins, preferred: readonly number[]): readonly (readonly number[])[] {
  const reach = reachability(wins.length, (a, b) => margin(wins, a, b) > 0);
  const circles: (readonly number[])[] = [];
  const told = new Set<number>();
  for (const cup of preferred) {
    if (told.has(cup) || !reach[cup]?.has(cup)) continue;
    const tangled = preferred.filter((other) => reach[cup]?.has(other) && reach[other]?.has(cup));
    for (const other of tangled) told.add(other);
    circles.push(shortestCircle(wins, cup));
  }
  return circles;
}

/** A majority: `over` is put over `under` by `margin` more tasters than the other way. */
type Majority = { readonly over: number; readonly under: number; readonly margin: number };

function strongestFirst(wins: Wins): readonly (readonly Majority[])[] {
  const majorities = wins.flatMap((_, over) =>
    wins.flatMap((__, under) => {
      const by = margin(wins, over, under);
      return by > 0 ? [{ over, under, margin: by }] : [];
    }),
  );
  const strengths = [...new Set(majorities.map((majority) => majority.margin))].sort((a, b) => b - a);
  return strengths.map((strength) => majorities.filter((majority) => majority.margin === strength));
}

function reachAlong(size: number, edges: readonly Majority[]) {
  const has = new Set(edges.map(({ over, under }) => over * size + under));
  return reachability(size, (a, b) => has.has(a * size + b));
}

function tiers(size: number, kept: readonly Majority[]): readonly (readonly number[])[] {
  const order: (readonly number[])[] = [];
  let left = Array.from({ length: size }, (_, cup) => cup);
  while (left.length > 0) {
    const remaining = new Set(left);
    const beaten = new Set(kept.filter(({ over }) => remaining.has(over)).map(({ under }) => under));
    order.push(left.filter((cup) => !beaten.has(cup)));
    left = left.filter((cup) => beaten.has(cup));
  }
  return order;
}

/**
 * Ranked pairs (T. N. Tideman, 1987, Social Choice and Welfare 4:185–206): majorities are kept from the widest
 * margin down, leaving out any that would close a circle with those kept. Where majorities of equal margin close
 * a circle among themselves the published rule draws lots; here none of them is kept, because neither names nor the
 * order of input may decide.
 *
 * @returns cups from best to worst; cups that the method leaves level stand together
 */
export function rankedPairs(wins: Wins): readonly (readonly number[])[] {
  const size = wins.length;
  const kept: Majority[] = [];
  for (const equals of strongestFirst(wins)) {
    const settled = reachAlong(size, kept);
    const open = equals.filter(({ over, under }) => !settled[under]?.has(over));
    const together = reachAlong(size, [...kept, ...open]);
    kept.push(...open.filter(({ over, under }) => !together[under]?.has(over)));
  }
  return tiers(size, kept);
}

/** What the majorities say, pair by pair, beside the mean ranks. */
export type MajorityView = {
  /** each circle of majorities in order: [A, B, C] for A over B over C over A */
  readonly circles: readonly (readonly string[])[];
  /** ratios that more tasters put over the winner than under it */
  readonly beatWinner: readonly string[];
  /** the order by ranked pairs (Tideman), the published way out of a circle */
  readonly rankedPairs: readonly (readonly string[])[];
};

/** Reads the pairwise counts of the cups `ids`; circles are told from the cup that stands best. */
export function majorityView(
  ids: readonly string[],
  wins: Wins,
  standings: readonly Standing[],
  winner: string | null,
): MajorityView {
  const name = (cup: number) => ids[cup] ?? '';
  const preferred = standings.map(({ id }) => ids.indexOf(id)).filter((cup) => cup >= 0);
  const chosen = winner === null ? -1 : ids.indexOf(winner);
  return {
    circles: majorityCircles(wins, preferred).map((circle) => circle.map(name)),
    beatWinner: chosen < 0 ? [] : ids.filter((_, other) => margin(wins, other, chosen) > 0),
    rankedPairs: rankedPairs(wins).map((level) => level.map(name)),
  };
}
