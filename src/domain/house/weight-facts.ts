import { formatGrams, formatWeight } from '../measure/format-weight.js';
import { formatMoney, isCurrency, parseMoney } from '../measure/money.js';
import { parseWeight } from '../measure/parse-weight.js';
import { changed, type FactEntry, unclear } from './fact-entry.js';
import type { HouseFacts } from './house-facts.js';

type WeightFact = 'scaleStepMg' | 'batchStepMg' | 'spareMg' | 'purgeMg' | 'bagMg';

const WEIGHTS: readonly (readonly [
  WeightFact,
  label: string,
  alsoCalled: readonly string[],
  usual: string,
])[] = [
  ['scaleStepMg', 'scale step', ['scale', 'table scale'], '0.1 g'],
  ['batchStepMg', 'batch step', ['drum scale', 'production scale'], '10 g'],
  ['spareMg', 'spare', ['spare grams'], '50 g'],
  ['purgeMg', 'purge', ['purge grams'], '5 g'],
  ['bagMg', 'bag', ['bag size'], '250 g'],
];

/** Facts that are one weight. */
export const WEIGHT_FACTS: readonly FactEntry[] = WEIGHTS.map(([name, label, alsoCalled, example]) => ({
  name,
  label,
  alsoCalled,
  example,
  read: (words) => {
    // The house's own weights are grams when nothing else is said.
    const weight = parseWeight(/^[\d.,]+$/u.test(words.trim()) ? `${words.trim()} g` : words);
    return weight.ok ? changed(weightChange(name, weight.mg)) : weight;
  },
  show: (house) =>
    name === 'bagMg' ? formatWeight(house[name], house.unitSystem) : formatGrams(house[name]),
}));

function weightChange(name: WeightFact, mg: number): Partial<HouseFacts> {
  return Object.fromEntries([[name, mg]]);
}

/** Facts about money and units. */
export const MONEY_FACTS: readonly FactEntry[] = [
  {
    name: 'currency',
    label: 'currency',
    alsoCalled: [],
    example: 'EUR',
    read: (words) => {
      const code = words.trim().toUpperCase();
      return isCurrency(code)
        ? changed({ currency: code })
        : unclear(words, 'Give the three letters, like EUR.');
    },
    show: (house) => house.currency,
  },
  {
    name: 'roastingCostCentsPerKg',
    label: 'roasting cost',
    alsoCalled: ['roasting', 'cost per kg'],
    example: '2.50',
    read: (words) => {
      const cents = parseMoney(words.replace(/\s*(?:\/|per )\s*kg$/iu, ''));
      return cents === null
        ? unclear(words, 'Give the cost of a roasted kilogram, like 2.50.')
        : changed({ roastingCostCentsPerKg: cents });
    },
    show: (house) => `${formatMoney(house.roastingCostCentsPerKg, house.currency)} per roasted kg`,
  },
  {
    name: 'unitSystem',
    label: 'units',
    alsoCalled: ['unit system'],
    example: 'pounds',
    read: (words) => {
      if (/^(?:metric|grams?|kilos?|kg|g)$/iu.test(words.trim())) return changed({ unitSystem: 'metric' });
      if (/pound|lb|ounce|oz|imperial/iu.test(words)) return changed({ unitSystem: 'pounds' });
      return unclear(words, 'Say metric, or pounds to have pounds and ounces beside the grams.');
    },
    show: (house) =>
      house.unitSystem === 'metric' ? 'grams and kilograms' : 'grams, with pounds and ounces beside',
  },
];
