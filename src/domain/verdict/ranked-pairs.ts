import { margin, reachability, type Wins } from './majorities.js';

/** A majority: `over` is put over `under` by `margin` more tasters than the other way. */
type Majority = { readonly over: number; readonly under: number; readonly margin: number };

/** The order that ranked pairs makes of the majorities. */
export type RankedPairs = {
  /** cups from best to worst; cups that the method leaves level stand together */
  readonly order: readonly (readonly number[])[];
  /** majorities given up because stronger ones contradict them */
  readonly skipped: readonly Majority[];
  /** whether majorities of equal strength contradict each other, so that none of them was kept */
  readonly tied: boolean;
};

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
 * a circle among themselves the published rule draws lots; here none of them is kept and `tied` says so, because
 * neither names nor the order of input may decide.
 */
export function rankedPairs(wins: Wins): RankedPairs {
  const size = wins.length;
  const kept: Majority[] = [];
  const skipped: Majority[] = [];
  let tied = false;
  for (const equals of strongestFirst(wins)) {
    const settled = reachAlong(size, kept);
    const open = equals.filter(({ over, under }) => !settled[under]?.has(over));
    const together = reachAlong(size, [...kept, ...open]);
    const agreeing = open.filter(({ over, under }) => !together[under]?.has(over));
    tied ||= agreeing.length < open.length;
    kept.push(...agreeing);
    skipped.push(...equals.filter((majority) => !agreeing.includes(majority)));
  }
  return { order: tiers(size, kept), skipped, tied };
}
