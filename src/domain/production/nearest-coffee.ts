import type { Coffee } from '../record/coffee.js';

/** How often each attribute was named for a coffee, as shares or counts. */
export type Profile = ReadonlyMap<string, number>;

/** A coffee that could stand in for another. */
export type Candidate = {
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
