import type { HouseFacts } from '../house/house-facts.js';
import { formatMoney } from '../measure/money.js';
import type { Coffee } from '../record/coffee.js';
import { type ProductionNote, type ProductionPlan, productionNote } from './production-note.js';

/** What happens to a production note when one of its coffees runs out. */
export type RunOut = {
  readonly missing: string;
  /** Stand-ins, nearest first. */
  readonly nearest: readonly Nearest[];
  /** The note with the nearest stand-in, as a preview; null when there is none. */
  readonly note: ProductionNote | null;
  /** What changes and what to taste first, sentence by sentence. */
  readonly said: readonly string[];
};

/** A coffee that could stand in, with all its facts. */
export type StandIn = Omit<Candidate, 'coffee'> & { readonly coffee: Coffee };

/**
 * The production note with the nearest coffee in place of one that runs out. The stand-in is joined roasted,
 * because its green has not been tried with the others, and the note is a preview until it is cupped.
 */
export function whenRunsOut(
  plan: ProductionPlan,
  coffeeId: number,
  profile: Profile,
  standIns: readonly StandIn[],
  house: HouseFacts,
): RunOut | null {
  const missing = plan.coffees.find((coffee) => coffee.id === coffeeId);
  if (!missing) return null;
  const others = standIns.filter(
    (candidate) => !plan.parts.some((part) => part.coffeeId === candidate.coffee.id),
  );
  const nearest = nearestCoffees({ coffee: missing, profile }, others);
  const chosen = others.find((candidate) => candidate.coffee.id === nearest[0]?.coffeeId)?.coffee;
  if (!chosen)
    return {
      missing: missing.name,
      nearest,
      note: null,
      said: [`There is nothing to stand in for ${missing.name}.`],
    };
  const parts = plan.parts.map((part) =>
    part.coffeeId === coffeeId ? { coffeeId: chosen.id, parts: part.parts, roastGroup: null } : part,
  );
  const coffees = [...plan.coffees.filter((coffee) => coffee.id !== coffeeId), chosen];
  const regrouped = plan.parts.find((part) => part.coffeeId === coffeeId)?.roastGroup ?? null;
  // A group that lost a coffee is another group: its measured loss no longer holds.
  const groupLossBp = new Map([...plan.groupLossBp].filter(([group]) => group !== regrouped));
  const measured = plan.measured && {
    ...plan.measured,
    groups: new Map([...plan.measured.groups].filter(([group]) => group !== regrouped)),
  };
  const note = productionNote(
    {
      ...plan,
      ...(measured ? { measured } : {}),
      parts,
      coffees,
      groupLossBp,
      pouredOnly: true,
      signedOffBy: null,
    },
    house,
  );
  return {
    missing: missing.name,
    nearest,
    note,
    said: whatChanges(plan, note, missing, chosen, regrouped, house),
  };
}

function whatChanges(
  plan: ProductionPlan,
  note: ProductionNote,
  missing: Coffee,
  chosen: Coffee,
  regrouped: string | null,
  house: HouseFacts,
): readonly string[] {
  const before = productionNote(plan, house).cost;
  const said = [`Taste ${chosen.name} alone beside ${missing.name}, then in the blend, before it goes in.`];
  if (regrouped !== null)
    said.push(`${missing.name} was joined green; roast ${chosen.name} apart until a trial says otherwise.`);
  if (before.ok && note.cost.ok) {
    const gap = note.cost.cost.perKgCents - before.cost.perKgCents;
    const way =
      gap === 0
        ? 'The cost stays the same'
        : `The blend costs ${formatMoney(Math.abs(gap), house.currency)} per kg ${gap > 0 ? 'more' : 'less'}`;
    said.push(`${way}.`);
  }
  return said;
}

/** How often each attribute was named for a coffee, as shares or counts. */
type Profile = ReadonlyMap<string, number>;

/** A coffee that could stand in for another. */
type Candidate = {
  readonly coffee: Pick<Coffee, 'id' | 'name' | 'role' | 'level' | 'process'>;
  readonly profile: Profile;
  /** Grams that could be used, roasted or green; candidates with none are left out. */
  readonly availableMg: number;
};

/** A coffee near another, best first. */
export type Nearest = {
  readonly coffeeId: number;
  readonly name: string;
  /** Cosine of the two profiles, 0..1; null when either was never tasted. */
  readonly similarity: number | null;
  readonly sameRole: boolean;
  readonly said: string;
};

/** A coffee of the same role counts as much as this much similarity: a rule of our own. */
const ROLE_WEIGHT = 0.25;
/** Coffees never tasted are placed as if half alike. */
const UNKNOWN_SIMILARITY = 0.5;

/**
 * The coffees nearest to one that is missing, by the cosine of what tasters named in both and by role; equal
 * ones in the order given.
 */
export function nearestCoffees(
  missing: Omit<Candidate, 'availableMg'>,
  candidates: readonly Candidate[],
): readonly Nearest[] {
  return candidates
    .filter((candidate) => candidate.coffee.id !== missing.coffee.id && candidate.availableMg > 0)
    .map((candidate) => {
      const similarity = profileSimilarity(missing.profile, candidate.profile);
      const sameRole = candidate.coffee.role === missing.coffee.role;
      const score = (similarity ?? UNKNOWN_SIMILARITY) + (sameRole ? ROLE_WEIGHT : 0);
      return {
        score,
        nearest: {
          coffeeId: candidate.coffee.id,
          name: candidate.coffee.name,
          similarity,
          sameRole,
          said: words(candidate, similarity, sameRole),
        },
      };
    })
    .sort((a, b) => b.score - a.score)
    .map((entry) => entry.nearest);
}

/** Cosine of two profiles; null when one of them is empty, where it has no meaning. */
export function profileSimilarity(a: Profile, b: Profile): number | null {
  const length = (profile: Profile) =>
    Math.sqrt([...profile.values()].reduce((sum, value) => sum + value * value, 0));
  const lengths = length(a) * length(b);
  if (lengths === 0) return null;
  const together = [...a].reduce((sum, [attribute, value]) => sum + value * (b.get(attribute) ?? 0), 0);
  return together / lengths;
}

function words(candidate: Candidate, similarity: number | null, sameRole: boolean): string {
  const tasted =
    similarity === null ? 'never tasted beside it' : `tastes ${Math.round(similarity * 100)} % alike`;
  const role = sameRole ? 'the same role' : `usually ${candidate.coffee.role}`;
  return `${candidate.coffee.name}: ${tasted}, ${role}.`;
}
