import { plainList } from '../measure/plain-list.js';
import type { Coffee } from '../record/coffee.js';

/** What joining two coffees green depends on. */
type GreenFacts = Pick<Coffee, 'name' | 'process' | 'moistureBp' | 'densityGPerL' | 'screen' | 'colour'>;

/** Whether two coffees could be roasted together, and why in one sentence. */
export type JoiningAdvice = {
  /** `trial`: worth a trial roast; `apart`: something speaks against it; `unknown`: measure first. */
  readonly verdict: 'trial' | 'apart' | 'unknown';
  readonly said: string;
};

/** From these differences on two coffees are better roasted apart: a proposal of ours, no source. */
const MOST_MOISTURE_BP = 100;
const MOST_DENSITY_G_PER_L = 40;
const APART_SCREEN = 2;
const MOST_COLOUR = 5;

/** One fact of both coffees, and what speaks against joining them; null when it is not known for both. */
type Check = { readonly what: string; readonly against: readonly string[] | null };

/**
 * Whether two coffees could be joined green: moisture within 1 point, density within 40 g/L, mean screen
 * less than 2 apart, no washed coffee with a natural or honey, wanted colours within 5.
 */
export function joiningAdvice(a: GreenFacts, b: GreenFacts): JoiningAdvice {
  const checks = [
    compare('moisture', a.moistureBp, b.moistureBp, (gap) =>
      gap > MOST_MOISTURE_BP ? [`moisture differs by ${gap / 100} points`] : [],
    ),
    compare('density', a.densityGPerL, b.densityGPerL, (gap) =>
      gap > MOST_DENSITY_G_PER_L ? [`density differs by ${gap} g/L`] : [],
    ),
    compare('screen', a.screen, b.screen, (gap) => (gap >= APART_SCREEN ? [`screen differs by ${gap}`] : [])),
    compareProcess(a, b),
    compare('wanted colour', a.colour, b.colour, (gap) =>
      gap > MOST_COLOUR ? [`wanted colours are ${gap} apart`] : [],
    ),
  ];
  const against = checks.flatMap((check) => check.against ?? []);
  if (against.length > 0)
    return { verdict: 'apart', said: `Roast ${a.name} and ${b.name} apart: ${plainList(against)}.` };
  const unknown = checks.filter((check) => check.against === null).map((check) => check.what);
  if (unknown.length > 0)
    return {
      verdict: 'unknown',
      said: `${a.name} with ${b.name}: measure ${plainList(unknown)} before a trial of joining them green.`,
    };
  return {
    verdict: 'trial',
    said: `${a.name} and ${b.name} are alike enough for a trial of joining them green; taste it beside this cup.`,
  };
}

function compare(
  what: string,
  a: number | null,
  b: number | null,
  againstAt: (gap: number) => readonly string[],
): Check {
  if (a === null || b === null) return { what, against: null };
  return { what, against: againstAt(Number(Math.abs(a - b).toFixed(2))) };
}

function compareProcess(a: GreenFacts, b: GreenFacts): Check {
  if (a.process === null || b.process === null) return { what: 'process', against: null };
  const dried = (coffee: GreenFacts) => coffee.process === 'natural' || coffee.process === 'honey';
  const mixed = (a.process === 'washed' && dried(b)) || (b.process === 'washed' && dried(a));
  return { what: 'process', against: mixed ? [`one is ${a.process}, the other ${b.process}`] : [] };
}
