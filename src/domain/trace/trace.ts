import type { CupTally } from '../tally/cup-tally.js';
import { mostShared } from '../tally/cup-tally.js';
import type { TableTally } from '../tally/tally.js';
import { type ComponentShare, compareShares, type ShareComparison } from './share-difference.js';

/** One component of the chosen blend: its cup on the table and its whole-number parts. */
type TracedComponent = { readonly cup: string; readonly parts: number };

/**
 * What became of an attribute in the blend. `carried`: it is there about as much as its components bring.
 * `quieted` and `lifted`: less and more than they bring, beyond chance. `new`: no component has it and the blend
 * does, beyond chance. `within chance`: too few words to say any of that.
 */
type TraceStatus = 'carried' | 'quieted' | 'lifted' | 'new' | 'within chance';

/** Where one attribute of the blend comes from. */
export type AttributeTrace = ShareComparison & {
  readonly attribute: string;
  readonly status: TraceStatus;
  /** component cups that bring it: together at least half of the expected share, the largest first */
  readonly carriedBy: readonly string[];
  readonly blend: { readonly tasters: number; readonly noted: number };
  readonly components: readonly (ComponentShare & { readonly cup: string })[];
};

/** The trace of a blend by attribute and, rolled up, by family. */
export type BlendTrace = {
  readonly blend: string;
  readonly attributes: readonly AttributeTrace[];
  readonly families: readonly AttributeTrace[];
};

/** The blend cup chosen, the components' cups with their parts in it, and the tally of all of them. */
export type TraceInput = {
  readonly blend: string;
  readonly components: readonly TracedComponent[];
  readonly tally: TableTally;
};

/** In the blend one person's word alone is not called carried. */
const FEWEST_IN_BLEND = 2;
/** With fewer tasters of any of the cups the interval flags too easily to be trusted. */
const FEWEST_NOTED = 4;

type Named = { readonly name: string; readonly tasters: number };

/**
 * Traces each attribute of the blend to its components. The expected share is Σ weight × component share, a rule
 * of this project's own: it assumes that a coffee's flavours are noticed in proportion to its part of the blend.
 * The observed share is set against it, and a difference is named only when its 95 % interval excludes zero and
 * every cup involved was noted by at least four tasters. (With four to twelve, who answer independently, a blend
 * exactly as expected is flagged 5 to 7 times in 100; fewer when the same people answer alike for all cups.)
 */
export function traceBlend({ blend, components, tally }: TraceInput): BlendTrace {
  return {
    blend,
    attributes: traceOver(blend, components, tally, (cup) =>
      cup.attributes.map(({ attribute, tasters }) => ({ name: attribute, tasters })),
    ),
    families: traceOver(blend, components, tally, (cup) => cup.families),
  };
}

function traceOver(
  blend: string,
  components: readonly TracedComponent[],
  tally: TableTally,
  namesOf: (cup: CupTally) => readonly Named[],
): readonly AttributeTrace[] {
  const cups = new Map(tally.cups.map((cup) => [cup.cup, cup]));
  const counts = new Map(
    tally.cups.map((cup) => [cup.cup, new Map(namesOf(cup).map(({ name, tasters }) => [name, tasters]))]),
  );
  const notedIn = (cup: string) => cups.get(cup)?.tasters ?? 0;
  const countIn = (cup: string, name: string) => counts.get(cup)?.get(name) ?? 0;
  const whole = components.reduce((sum, { parts }) => sum + parts, 0);
  const involved = [blend, ...components.map(({ cup }) => cup)];
  const names = new Set(involved.flatMap((cup) => [...(counts.get(cup)?.keys() ?? [])]));
  return [...names]
    .filter((name) => involved.some((cup) => countIn(cup, name) > 0))
    .map((name): AttributeTrace => {
      const shares = components.map(({ cup, parts }) => ({
        cup,
        weight: parts / whole,
        tasters: countIn(cup, name),
        noted: notedIn(cup),
      }));
      const inBlend = { tasters: countIn(blend, name), noted: notedIn(blend) };
      const comparison = compareShares(inBlend, shares);
      const enough = [inBlend, ...shares].every(({ noted }) => noted >= FEWEST_NOTED);
      const status = statusOf(comparison, inBlend.tasters, enough);
      return {
        attribute: name,
        ...comparison,
        status,
        carriedBy: carriers(shares),
        blend: inBlend,
        components: shares,
      };
    })
    .sort((a, b) => mostShared([a.blend.tasters, a.attribute], [b.blend.tasters, b.attribute]));
}

function statusOf(
  { expected, interval }: ShareComparison,
  tastersInBlend: number,
  enough: boolean,
): TraceStatus {
  if (enough && interval[0] > 0) return expected === 0 ? 'new' : 'lifted';
  if (enough && interval[1] < 0) return 'quieted';
  return expected > 0 && tastersInBlend >= FEWEST_IN_BLEND ? 'carried' : 'within chance';
}

/** The fewest components that bring at least half of the expected share; components that bring alike stay together. */
function carriers(shares: readonly (ComponentShare & { readonly cup: string })[]): readonly string[] {
  const brought = shares
    .map(({ cup, weight, tasters, noted }) => ({ cup, amount: noted === 0 ? 0 : (weight * tasters) / noted }))
    .filter(({ amount }) => amount > 0)
    .sort((a, b) => b.amount - a.amount);
  const half = brought.reduce((sum, { amount }) => sum + amount, 0) / 2;
  const named: string[] = [];
  let sum = 0;
  let last = 0;
  for (const { cup, amount } of brought) {
    if (sum >= half && amount < last - 1e-9) break;
    named.push(cup);
    sum += amount;
    last = amount;
  }
  return named;
}
