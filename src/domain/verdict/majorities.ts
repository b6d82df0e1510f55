import type { SparseRows } from '../stats/canonical-rows.js';

/** wins[a][b]: tasters who placed both cups and put a over b. */
export type Wins = readonly (readonly number[])[];

/** Counts for every pair of cups how many tasters put one over the other. */
export function pairwiseWins(rows: SparseRows, cups: number): Wins {
  const wins = Array.from({ length: cups }, () => new Array<number>(cups).fill(0));
  for (const row of rows) {
    for (const [a, own] of wins.entries()) {
      const rank = row[a] ?? null;
      if (rank === null) continue;
      for (let b = 0; b < cups; b += 1) {
        const other = row[b] ?? null;
        if (other !== null && rank < other) own[b] = (own[b] ?? 0) + 1;
      }
    }
  }
  return wins;
}

/** Tasters who put a over b less those who put b over a. */
export function margin(wins: Wins, a: number, b: number): number {
  return (wins[a]?.[b] ?? 0) - (wins[b]?.[a] ?? 0);
}

/** reach[a].has(b): b can be reached from a along the relation, in one step or more. */
export function reachability(
  size: number,
  related: (a: number, b: number) => boolean,
): readonly ReadonlySet<number>[] {
  const indices = Array.from({ length: size }, (_, index) => index);
  return indices.map((start) => {
    const reached = new Set<number>();
    const waiting = [start];
    for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
      const from = at;
      for (const next of indices) {
        if (next === from || reached.has(next) || !related(from, next)) continue;
        reached.add(next);
        waiting.push(next);
      }
    }
    return reached;
  });
}

/**
 * The Smith set: the smallest set of cups each of which beats every cup outside it head to head (J. H. Smith, 1973,
 * Econometrica 41:1027–1041). One cup alone is the Condorcet winner; several mean that majorities do not settle it.
 */
export function smithSet(wins: Wins): readonly number[] {
  const reach = reachability(wins.length, (a, b) => margin(wins, a, b) >= 0);
  return wins.flatMap((_, cup) =>
    wins.every((__, other) => other === cup || reach[cup]?.has(other)) ? [cup] : [],
  );
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
