import type { HouseFacts } from '../house/house-facts.js';
import { formatMoney } from '../measure/money.js';
import type { Coffee } from '../record/coffee.js';
import { type Candidate, type Nearest, nearestCoffees, type Profile } from './nearest-coffee.js';
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
