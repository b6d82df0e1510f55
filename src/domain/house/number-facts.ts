import { plainNumber } from '../measure/format-weight.js';
import { formatBp, parseBp } from '../measure/percent.js';
import { changed, type FactEntry, unclear } from './fact-entry.js';
import type { HouseFacts } from './house-facts.js';

type NumberFact =
  | 'cutOffHour'
  | 'noticeDays'
  | 'bestByDays'
  | 'vesselMl'
  | 'gramsPerLitre'
  | 'bowlsPerCup'
  | 'serveMl'
  | 'readyTimes'
  | 'scoopTolerancePoints';

type NumberEntry = {
  readonly name: NumberFact;
  readonly label: string;
  readonly alsoCalled?: readonly string[];
  readonly unit: string;
  readonly usual: string;
};

const NUMBERS: readonly NumberEntry[] = [
  {
    name: 'cutOffHour',
    label: 'cut-off',
    alsoCalled: ['cut off', 'cut-off hour'],
    unit: ':00 the day before',
    usual: '16',
  },
  { name: 'noticeDays', label: 'notice days', alsoCalled: ['notice'], unit: ' days', usual: '7' },
  {
    name: 'bestByDays',
    label: 'best by',
    alsoCalled: ['best-by', 'best before'],
    unit: ' days after roasting',
    usual: '30',
  },
  { name: 'vesselMl', label: 'bowl', alsoCalled: ['vessel', 'cup size'], unit: ' mL', usual: '207' },
  {
    name: 'gramsPerLitre',
    label: 'dose',
    alsoCalled: ['brew ratio', 'grams per litre'],
    unit: ' g/L',
    usual: '55',
  },
  {
    name: 'bowlsPerCup',
    label: 'bowls',
    alsoCalled: ['bowls per sample', 'cups per sample'],
    unit: ' of each sample',
    usual: '2',
  },
  { name: 'serveMl', label: 'serving', alsoCalled: ['serve'], unit: ' mL', usual: '45' },
  {
    name: 'readyTimes',
    label: 'kept ready',
    alsoCalled: ['ready times'],
    unit: ' times what the cups take',
    usual: '2',
  },
  {
    name: 'scoopTolerancePoints',
    label: 'scoop tolerance',
    alsoCalled: ['scoops'],
    unit: ' points',
    usual: '2.5',
  },
];

/** Facts that are one number. */
export const NUMBER_FACTS: readonly FactEntry[] = NUMBERS.map((entry) => ({
  name: entry.name,
  label: entry.label,
  alsoCalled: entry.alsoCalled ?? [],
  example: entry.usual,
  read: (words) => {
    const number = /^(\d{1,4}(?:[.,]\d{1,2})?)(?::00)?\s*(?:[a-z/]+(?: [a-z]+)*)?$/iu.exec(words.trim())?.[1];
    if (number === undefined) return unclear(words, `Give one number, like ${entry.usual}.`);
    return changed(numberChange(entry.name, Number(number.replace(',', '.'))));
  },
  show: (house) => `${plainNumber(house[entry.name], 2)}${entry.unit}`,
}));

function numberChange(name: NumberFact, value: number): Partial<HouseFacts> {
  return Object.fromEntries([[name, value]]);
}

/** Facts that are shares: losses and the margin. */
export const SHARE_FACTS: readonly FactEntry[] = [
  {
    name: 'lossDefaultsBp',
    label: 'loss defaults',
    alsoCalled: ['loss', 'losses', 'roast loss'],
    example: 'light 13 medium 15.5 dark 18.5',
    read: (words, house) => {
      const found = [...words.toLowerCase().matchAll(/(light|medium|dark)\s*[:=]?\s*([\d.,]+\s*%?)/gu)];
      let losses = house.lossDefaultsBp;
      for (const [, level = '', share = ''] of found) {
        const bp = parseBp(share.replace(/[,.]$/u, ''));
        if (bp === null || bp > 4000) return unclear(share, 'A roast loss is a share from 0 to 40 %.');
        losses = { ...losses, ...Object.fromEntries([[level, bp]]) };
      }
      return found.length > 0
        ? changed({ lossDefaultsBp: losses })
        : unclear(words, 'Say it like light 13 medium 15.5 dark 18.5.');
    },
    show: ({ lossDefaultsBp: loss }) =>
      `light ${formatBp(loss.light)}, medium ${formatBp(loss.medium)}, dark ${formatBp(loss.dark)}`,
  },
  {
    name: 'marginBp',
    label: 'margin',
    alsoCalled: [],
    example: '60 %',
    read: (words) => {
      const bp = parseBp(words);
      return bp === null
        ? unclear(words, 'Give a share of the price, like 60 %.')
        : changed({ marginBp: bp });
    },
    show: (house) => `${formatBp(house.marginBp)} of the price`,
  },
];
