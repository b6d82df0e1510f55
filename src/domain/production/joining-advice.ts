import { plainList } from '../measure/plain-list.js';
import type { Coffee } from '../record/coffee.js';

/** What joining two coffees green depends on. */
export type GreenFacts = Pick<
  Coffee,
  'id' | 'name' | 'process' | 'moistureBp' | 'densityGPerL' | 'screen' | 'colour'
>;

/** Whether two coffees could be roasted together. */
export type JoiningAdvice = {
  readonly coffeeIds: readonly [number, number];
  readonly names: readonly [string, string];
  /** `trial`: worth a trial roast; `apart`: something speaks against it; `unknown`: measure first. */
  readonly verdict: 'trial' | 'apart' | 'unknown';
  /** Each difference that speaks against it, in words. */
  readonly reasons: readonly string[];
  /** Facts that are not known for both. */
  readonly unknown: readonly string[];
  readonly said: string;
};

/** From these differences on two coffees are better roasted apart: a proposal of ours, no source. */
const MOST_MOISTURE_BP = 100;
const MOST_DENSITY_G_PER_L = 40;
const APART_SCREEN = 2;
const MOST_COLOUR = 5;

type Check = { readonly what: string; readonly known: boolean; readonly reason: string | null };

/**
 * Whether two coffees could be joined green: moisture within 1 point, density within 40 g/L, mean screen
 * less than 2 apart, no washed coffee with a natural or honey, wanted colours within 5.
 */
export function joiningAdvice(a: GreenFacts, b: GreenFacts): JoiningAdvice {
  const checks = [moisture(a, b), density(a, b), screen(a, b), process(a, b), colour(a, b)];
  const reasons = checks.flatMap((check) => (check.reason === null ? [] : [check.reason]));
  const unknown = checks.filter((check) => !check.known).map((check) => check.what);
  const verdict = reasons.length > 0 ? 'apart' : unknown.length > 0 ? 'unknown' : 'trial';
  const said = new Map<JoiningAdvice['verdict'], string>([
    ['apart', `Roast ${a.name} and ${b.name} apart: ${plainList(reasons)}.`],
    [
      'unknown',
      `${a.name} with ${b.name}: measure ${plainList(unknown)} before a trial of joining them green.`,
    ],
    [
      'trial',
      `${a.name} and ${b.name} are alike enough for a trial of joining them green; taste it beside this cup.`,
    ],
  ]);
  return {
    coffeeIds: [a.id, b.id],
    names: [a.name, b.name],
    verdict,
    reasons,
    unknown,
    said: said.get(verdict) ?? '',
  };
}

function moisture(a: GreenFacts, b: GreenFacts): Check {
  return compare('moisture', a.moistureBp, b.moistureBp, (gap) =>
    gap > MOST_MOISTURE_BP ? `moisture differs by ${gap / 100} points` : null,
  );
}

function density(a: GreenFacts, b: GreenFacts): Check {
  return compare('density', a.densityGPerL, b.densityGPerL, (gap) =>
    gap > MOST_DENSITY_G_PER_L ? `density differs by ${gap} g/L` : null,
  );
}

function screen(a: GreenFacts, b: GreenFacts): Check {
  return compare('screen', a.screen, b.screen, (gap) =>
    gap >= APART_SCREEN ? `screen differs by ${gap}` : null,
  );
}

function colour(a: GreenFacts, b: GreenFacts): Check {
  return compare('wanted colour', a.colour, b.colour, (gap) =>
    gap > MOST_COLOUR ? `wanted colours are ${gap} apart` : null,
  );
}

function process(a: GreenFacts, b: GreenFacts): Check {
  const known = a.process !== null && b.process !== null;
  const dried = (coffee: GreenFacts) => coffee.process === 'natural' || coffee.process === 'honey';
  const mixed = (a.process === 'washed' && dried(b)) || (b.process === 'washed' && dried(a));
  return {
    what: 'process',
    known,
    reason: mixed ? `one is ${a.process ?? ''}, the other ${b.process ?? ''}` : null,
  };
}

function compare(
  what: string,
  a: number | null,
  b: number | null,
  reasonAt: (gap: number) => string | null,
): Check {
  if (a === null || b === null) return { what, known: false, reason: null };
  return { what, known: true, reason: reasonAt(Number(Math.abs(a - b).toFixed(2))) };
}
