import { capitalised, plainList } from '../measure/plain-list.js';
import { type Interval, wilsonInterval } from '../stats/intervals.js';
import { type CupTally, mostShared, type TableTally } from '../tally/tally.js';

/** A count of tasters in one component cup and the component's weight in the blend (weights add to 1). */
type ComponentShare = { readonly weight: number; readonly tasters: number; readonly noted: number };

/** The blend's observed share beside the one its components lead to expect. */
type ShareComparison = {
  /** Σ weight × component share, 0..1 */
  readonly expected: number;
  /** share of the blend's tasters, 0..1 */
  readonly observed: number;
  /** observed − expected */
  readonly difference: number;
  /** 95 % interval of the difference */
  readonly interval: Interval;
};

type Spread = { readonly share: number; readonly below: number; readonly above: number };

function spreadOf(tasters: number, noted: number): Spread {
  const [low, high] = wilsonInterval(tasters, noted);
  const share = noted === 0 ? 0 : tasters / noted;
  return { share, below: share - low, above: high - share };
}

/**
 * Compares the blend's share with the weighted sum of its components' shares. The interval is that of Zou, Huang
 * & Zhang (2009, Computational Statistics & Data Analysis 53:1080–1085) for a linear function of proportions:
 * each share's distance to its Wilson limit, weighted, squared and added. It takes the cups as independent; the
 * same people taste all of them, which as a rule makes the true uncertainty smaller, so it errs on the side of
 * saying nothing. A cup that nobody noted makes the interval as wide as ignorance is.
 */
export function compareShares(
  blend: { readonly tasters: number; readonly noted: number },
  components: readonly ComponentShare[],
): ShareComparison {
  const observed = spreadOf(blend.tasters, blend.noted);
  const parts = components.map(({ weight, tasters, noted }) => ({ weight, ...spreadOf(tasters, noted) }));
  const expected = parts.reduce((sum, { weight, share }) => sum + weight * share, 0);
  const difference = observed.share - expected;
  const squares = (own: number, side: 'below' | 'above') =>
    parts.reduce((sum, part) => sum + (part.weight * part[side]) ** 2, own ** 2);
  return {
    expected,
    observed: observed.share,
    difference,
    interval: [
      difference - Math.sqrt(squares(observed.below, 'above')),
      difference + Math.sqrt(squares(observed.above, 'below')),
    ],
  };
}

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
type TraceInput = {
  readonly blend: string;
  readonly components: readonly TracedComponent[];
  readonly tally: TableTally;
};

/** In the blend one person's word alone is not called carried. */
const FEWEST_IN_BLEND = 2;
/** With fewer tasters of any of the cups the interval flags too easily to be trusted. */
const FEWEST_NOTED = 4;

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
  namesOf: (cup: CupTally) => readonly { readonly name: string; readonly tasters: number }[],
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

/** How a cup is called in a sentence: a component by its coffee. */
type NameOfCup = (cup: string) => string;

/** Something a barista can say, with the counts that stand behind it. */
type TraceSentence = { readonly attribute: string; readonly text: string };

const SAID_FIRST: readonly AttributeTrace['status'][] = ['carried', 'lifted', 'new', 'quieted'];

function inComponents(trace: AttributeTrace, nameOfCup: NameOfCup): string {
  const shares = trace.carriedBy.flatMap((cup) => trace.components.find((own) => own.cup === cup) ?? []);
  return plainList(
    shares.map(({ cup, tasters, noted }) => `${tasters} of ${noted} in ${nameOfCup(cup)} alone`),
  );
}

/** "7 of 9 find it", "1 of 9 finds it", "nobody finds it". */
function finders({ tasters, noted }: AttributeTrace['blend']): string {
  if (tasters === 0) return 'nobody finds it';
  return `${tasters} of ${noted} ${tasters === 1 ? 'finds' : 'find'} it`;
}

/** Percentage of the blend that the carrying components make up, to the whole point. */
function weightOf({ components, carriedBy }: AttributeTrace): number {
  const carried = components.filter(({ cup }) => carriedBy.includes(cup));
  return Math.round(100 * carried.reduce((sum, { weight }) => sum + weight, 0));
}

function sentenceFor(trace: AttributeTrace, nameOfCup: NameOfCup): string | null {
  const word = capitalised(trace.attribute);
  const found = finders(trace.blend);
  const source = plainList(trace.carriedBy.map(nameOfCup));
  const alone = inComponents(trace, nameOfCup);
  switch (trace.status) {
    case 'carried':
      return `${word} comes from ${source}: ${found} in the blend, ${alone}.`;
    case 'lifted':
      return `${word} comes through beyond its share: ${found} in the blend, ${alone}, which ${trace.carriedBy.length === 1 ? 'is' : 'are'} ${weightOf(trace)} % of it.`;
    case 'quieted':
      return `${word} goes quiet in the blend: ${found} there, ${alone}.`;
    case 'new':
      return `${word} is new in the blend: ${found} there, nobody in a component alone.`;
    case 'within chance':
      return null;
  }
}

/**
 * The sentences of a trace, what comes through first and what goes quiet last, the most shared first within each.
 * Attributes within chance yield none.
 */
export function traceSentences(trace: BlendTrace, nameOfCup: NameOfCup): readonly TraceSentence[] {
  const ordered = SAID_FIRST.flatMap((said) => trace.attributes.filter(({ status }) => status === said));
  return ordered.flatMap((traced) => {
    const text = sentenceFor(traced, nameOfCup);
    return text === null ? [] : [{ attribute: traced.attribute, text }];
  });
}
