import type { HouseFacts } from '../house/house-facts.js';
import { formatMoney } from '../measure/hundredths.js';
import type { Coffee } from '../record/coffee.js';
import { type ProductionPlan, productionNote } from './production-note.js';

/** How often each attribute was named for a coffee, as shares or counts. */
export type Profile = ReadonlyMap<string, number>;

/** A coffee that could stand in for another. */
export type Candidate<Facts = Pick<Coffee, 'id' | 'name' | 'role'>> = {
  readonly coffee: Facts;
  readonly profile: Profile;
  /** Grams that could be used, roasted or green, in milligrams; candidates with none are left out. */
  readonly availableMg: number;
};

/** A coffee near another. */
export type Nearest = {
  readonly coffeeId: number;
  readonly name: string;
  /** How alike it tastes and whether its role is the same, one sentence. */
  readonly said: string;
};

/** A coffee of the same role counts as much as this much similarity: a rule of our own. */
const ROLE_WEIGHT = 0.25;
/** Coffees never tasted are placed as if half alike. */
const UNKNOWN_SIMILARITY = 0.5;

/**
 * The coffees nearest to one that is missing, the best first, by the cosine of what tasters named in both and by
 * role; equal ones in the order given.
 */
export function nearestCoffees(
  missing: Omit<Candidate, 'availableMg'>,
  candidates: readonly Candidate[],
): readonly Nearest[] {
  return candidates
    .filter((candidate) => candidate.coffee.id !== missing.coffee.id && candidate.availableMg > 0)
    .map(({ coffee, profile }) => {
      const similarity = profileSimilarity(missing.profile, profile);
      const sameRole = coffee.role === missing.coffee.role;
      const tasted =
        similarity === null ? 'never tasted beside it' : `tastes ${Math.round(similarity * 100)} % alike`;
      const role = sameRole ? 'the same role' : `usually ${coffee.role}`;
      return {
        score: (similarity ?? UNKNOWN_SIMILARITY) + (sameRole ? ROLE_WEIGHT : 0),
        nearest: { coffeeId: coffee.id, name: coffee.name, said: `${coffee.name}: ${tasted}, ${role}.` },
      };
    })
    .sort((a, b) => b.score - a.score)
    .map((entry) => entry.nearest);
}

/** Cosine of two profiles, 0..1; null when one of them is empty, where it has no meaning. */
export function profileSimilarity(a: Profile, b: Profile): number | null {
  const length = (profile: Profile) =>
    Math.sqrt([...profile.values()].reduce((sum, value) => sum + value * value, 0));
  const lengths = length(a) * length(b);
  if (lengths === 0) return null;
  const together = [...a].reduce((sum, [attribute, value]) => sum + value * (b.get(attribute) ?? 0), 0);
  return together / lengths;
}

/** What happens to a production note when one of its coffees runs out. */
export type RunOut = {
  readonly missing: string;
  /** Stand-ins, nearest first. */
  readonly nearest: readonly Nearest[];
  /** What changes with the nearest and what to taste first, sentence by sentence. */
  readonly said: readonly string[];
};

/**
 * What a coffee that runs out means for a production note: which coffees are nearest to it, and what changes with the
 * nearest in its place. Null when the coffee is not in the plan.
 */
export function whenRunsOut(
  plan: ProductionPlan,
  coffeeId: number,
  profile: Profile,
  candidates: readonly Candidate<Coffee>[],
  house: HouseFacts,
): RunOut | null {
  const missing = plan.coffees.find((coffee) => coffee.id === coffeeId);
  if (!missing) return null;
  const others = candidates.filter(({ coffee }) => !plan.parts.some((part) => part.coffeeId === coffee.id));
  const nearest = nearestCoffees({ coffee: missing, profile }, others);
  const chosen = others.find(({ coffee }) => coffee.id === nearest[0]?.coffeeId)?.coffee;
  const said = chosen
    ? whatChanges(plan, missing, chosen, house)
    : [`There is nothing to stand in for ${missing.name}.`];
  return { missing: missing.name, nearest, said };
}

/**
 * The plan with another coffee in place of one. The stand-in is joined roasted, because its green has not been tried
 * with the others, and the note is a preview until it is cupped.
 */
export function withStandIn(plan: ProductionPlan, coffeeId: number, standIn: Coffee): ProductionPlan {
  const regrouped = groupOf(plan, coffeeId);
  // A group that lost a coffee is another group: its measured loss no longer holds.
  const others = <Loss>(losses: ReadonlyMap<string, Loss>) =>
    new Map([...losses].filter(([group]) => group !== regrouped));
  return {
    ...plan,
    parts: plan.parts.map((part) =>
      part.coffeeId === coffeeId ? { coffeeId: standIn.id, parts: part.parts, roastGroup: null } : part,
    ),
    coffees: [...plan.coffees.filter((coffee) => coffee.id !== coffeeId), standIn],
    groupLossBp: others(plan.groupLossBp),
    measured: { ...plan.measured, groups: others(plan.measured.groups) },
    pouredOnly: true,
  };
}

function groupOf(plan: ProductionPlan, coffeeId: number): string | null {
  return plan.parts.find((part) => part.coffeeId === coffeeId)?.roastGroup ?? null;
}

function whatChanges(
  plan: ProductionPlan,
  missing: Coffee,
  chosen: Coffee,
  house: HouseFacts,
): readonly string[] {
  const before = productionNote(plan, house).cost;
  const after = productionNote(withStandIn(plan, missing.id, chosen), house).cost;
  const said = [`Taste ${chosen.name} alone beside ${missing.name}, then in the blend, before it goes in.`];
  if (groupOf(plan, missing.id) !== null)
    said.push(`${missing.name} was joined green; roast ${chosen.name} apart until a trial says otherwise.`);
  if (before.ok && after.ok) {
    const gap = after.cost.perKgCents - before.cost.perKgCents;
    said.push(
      gap === 0
        ? 'The cost stays the same.'
        : `The blend costs ${formatMoney(Math.abs(gap), house.currency)} per kg ${gap > 0 ? 'more' : 'less'}.`,
    );
  }
  return said;
}
