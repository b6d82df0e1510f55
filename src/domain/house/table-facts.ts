import { z } from 'zod';
import { formatBp, formatMoney, isCurrency, parseBp, parseMoney, WHOLE_BP } from '../measure/hundredths.js';
import { plainList } from '../measure/plain-list.js';
import { formatGrams, formatWeight, type UnitSystem } from '../measure/weight.js';
import { LEVELS } from '../record/coffee.js';
import { TABLE_FORMATS } from '../record/tasting.js';
import {
  fact,
  numberIn,
  OURS,
  PositiveMg,
  PRACTICE,
  type Reading,
  readAs,
  unclear,
  WEIGHT,
  whole,
} from './fact.js';
import {
  exampleWindows,
  RestWindow,
  readWindows,
  restSource,
  showWindow,
  USUAL_WINDOWS,
} from './rest-window.js';

const Mg = z.number().int().nonnegative();
const Bp = whole(0, WHOLE_BP);
const RestWindows = z.array(RestWindow).min(1);
const Currency = z.string().regex(/^[A-Z]{3}$/u);

/** Facts about the table, the coffee that comes to it, and money. */
export const TABLE_FACTS = {
  formatByDefault: fact(z.enum(TABLE_FORMATS).default('cupping'), {
    called: ['format', 'table format'],
    group: 'table',
    source: OURS,
    example: (usual) => usual,
    read: (words) => {
      const format = TABLE_FORMATS.find((known) => known === words.trim().toLowerCase());
      return readAs(format, words, `Say ${plainList(TABLE_FORMATS, 'or')}.`);
    },
    show: (format) => format,
    input: {
      kind: 'choices',
      choices: [
        { label: 'Cupping', value: 'cupping', description: 'Steeped in bowls' },
        { label: 'Brewed', value: 'brewed', description: 'For large or new groups' },
      ],
    },
    filledIn: (format) => [format],
  }),
  /** Codes instead of letters when a booking does not say. */
  blindByDefault: fact(z.boolean().default(false), {
    called: ['blind', 'codes'],
    group: 'table',
    source: OURS,
    example: () => 'yes',
    read: (words) => {
      if (/^(?:yes|on|always|blind|codes)$/iu.test(words.trim())) return { ok: true, value: true };
      if (/^(?:no|off|never|open|letters)$/iu.test(words.trim())) return { ok: true, value: false };
      return unclear(words, 'Say yes for codes or no for letters.');
    },
    show: (blind) =>
      blind ? 'codes unless a booking says otherwise' : 'letters unless a booking says blind',
    input: {
      kind: 'choices',
      choices: [
        { label: 'Letters', value: 'no' },
        { label: 'Codes of three digits', value: 'yes' },
      ],
    },
    filledIn: (blind) => [blind ? 'yes' : 'no'],
  }),
  /** Millilitres of water in one cupping bowl. */
  vesselMl: fact(z.number().positive().max(1000).default(207), {
    ...numberIn(' mL'),
    called: ['bowl', 'vessel', 'cup size'],
    group: 'table',
    source: (usual) => `the smallest bowl of the SCA cupping standards (${usual}–266 mL)`,
  }),
  gramsPerLitre: fact(z.number().min(30).max(100).default(55), {
    ...numberIn(' g/L'),
    called: ['dose', 'brew ratio', 'grams per litre'],
    group: 'table',
    source: (usual) =>
      `${usual} g/L: ${formatGrams(usual * 150)} per 150 mL in the SCA cupping standards, and the SCAA brewing standard of 2015`,
  }),
  /** Bowls of every sample on one table. */
  bowlsPerCup: fact(whole(1, 5).default(2), {
    ...numberIn(' of each sample'),
    called: ['bowls', 'bowls per sample', 'cups per sample'],
    group: 'table',
    source: (usual) => `${usual}–${usual + 1} in house, 5 for a formal assessment: ${PRACTICE}`,
  }),
  /** Millilitres poured out for each taster in the brewed format. */
  serveMl: fact(z.number().min(15).max(200).default(45), {
    ...numberIn(' mL'),
    called: ['serving', 'serve'],
    group: 'table',
    source: () => `30–60 mL for each taster: ${PRACTICE}`,
  }),
  /** What the scale at the table shows. */
  scaleStepMg: fact(PositiveMg.default(100), {
    ...WEIGHT,
    called: ['scale step', 'scale', 'table scale'],
    group: 'table',
    source: (usual) =>
      `${formatGrams(usual)} keeps a dose well inside the ± 0.25 g of the SCA cupping standards`,
  }),
  scoopTolerancePoints: fact(z.number().min(0.5).max(10).default(2.5), {
    ...numberIn(' points'),
    called: ['scoop tolerance', 'scoops'],
    group: 'table',
    source: () => `${OURS()}; scooping by volume is no finer`,
  }),
  restWindows: fact(RestWindows.default(USUAL_WINDOWS), {
    called: ['rest', 'rest windows', 'rest days', 'resting'],
    group: 'roasted',
    source: (usual) => restSource(usual, PRACTICE),
    example: exampleWindows,
    read: readWindows,
    show: (windows) => windows.map(showWindow).join(', '),
  }),
  /** Days after roasting until which a roasted lot is kept for the table. */
  bestByDays: fact(whole(1, 365).default(30), {
    ...numberIn(' days after roasting'),
    called: ['best by', 'best-by', 'best before'],
    group: 'roasted',
    source: () => PRACTICE,
  }),
  lossDefaultsBp: fact(
    z.object({ light: Bp, medium: Bp, dark: Bp }).default({ light: 1300, medium: 1550, dark: 1850 }),
    {
      called: ['loss defaults', 'loss', 'losses', 'roast loss'],
      group: 'roasted',
      source: () => 'between trade figures that disagree by about 3 points; replaced by your own roasts',
      example: (usual) => LEVELS.map((level) => `${level} ${usual[level] / 100}`).join(' '),
      read: (words, now, like) => {
        const found = [...words.toLowerCase().matchAll(/(light|medium|dark)\s*[:=]?\s*([\d.,]+\s*%?)/gu)];
        let losses = now;
        for (const [, level = '', share = ''] of found) {
          const bp = parseBp(share.replace(/[,.]$/u, ''));
          if (bp === null || bp > 4000) return unclear(share, 'A roast loss is a share from 0 to 40 %.');
          losses = { ...losses, ...Object.fromEntries([[level, bp]]) };
        }
        return found.length > 0 ? { ok: true, value: losses } : unclear(words, `Say it like ${like}.`);
      },
      show: (loss) => LEVELS.map((level) => `${level} ${formatBp(loss[level])}`).join(', '),
    },
  ),
  /** How many times what the table takes is kept ready: 2 allows every cup to be made again. */
  readyTimes: fact(z.number().min(1).max(4).default(2), {
    ...numberIn(' times what the cups take'),
    called: ['kept ready', 'ready times'],
    group: 'roasted',
    source: (usual) => `${usual === 2 ? 'twice' : `${usual} times`} what the cups take: ${PRACTICE}`,
  }),
  /** Grams kept back per coffee. */
  spareMg: fact(Mg.default(50_000), {
    ...WEIGHT,
    called: ['spare', 'spare grams'],
    group: 'roasted',
    source: (usual) => `${formatGrams(usual)} per coffee: ${PRACTICE}`,
  }),
  /** Grams of each sample run through the grinder before it. */
  purgeMg: fact(Mg.default(5_000), {
    ...WEIGHT,
    called: ['purge', 'purge grams'],
    group: 'roasted',
    source: () => `a few beans of the next sample first: trade training; the grams: ${PRACTICE}`,
  }),
  currency: fact(Currency.default('EUR'), {
    called: ['currency'],
    group: 'money',
    source: OURS,
    example: (usual) => usual,
    read: (words, _now, like) => {
      const code = words.trim().toUpperCase();
      return readAs(isCurrency(code) ? code : null, words, `Give the three letters, like ${like}.`);
    },
    show: (code) => code,
  }),
  /** Cost of roasting a kilogram of roasted coffee: labour, gas, packing. */
  roastingCostCentsPerKg: fact(z.number().int().nonnegative().default(250), {
    called: ['roasting cost', 'roasting', 'cost per kg'],
    group: 'money',
    source: OURS,
    example: (usual) => (usual / 100).toFixed(2),
    read: (words, _now, like) => {
      const cents = parseMoney(words.replace(/\s*(?:\/|per )\s*kg$/iu, ''));
      return readAs(cents, words, `Give the cost of a roasted kilogram, like ${like}.`);
    },
    show: (cents, { currency }) => `${formatMoney(cents, currency)} per roasted kg`,
  }),
  bagMg: fact(PositiveMg.default(250_000), {
    ...WEIGHT,
    called: ['bag', 'bag size'],
    group: 'money',
    source: OURS,
    show: (mg, { unitSystem }) => formatWeight(mg, unitSystem),
  }),
  /** Margin as a share of the price, in hundredths of a percent. */
  marginBp: fact(whole(0, 9_500).default(6000), {
    called: ['margin'],
    group: 'money',
    source: OURS,
    example: formatBp,
    read: (words, _now, like) => readAs(parseBp(words), words, `Give a share of the price, like ${like}.`),
    show: (bp) => `${formatBp(bp)} of the price`,
  }),
  unitSystem: fact(z.enum(['metric', 'pounds']).default('metric'), {
    called: ['units', 'unit system'],
    group: 'money',
    source: OURS,
    example: () => 'pounds',
    read: (words): Reading<UnitSystem> => {
      const isMetric = /^(?:metric|grams?|kilos?|kg|g)$/iu.test(words.trim());
      return isMetric || /pound|lb|ounce|oz|imperial/iu.test(words)
        ? { ok: true, value: isMetric ? 'metric' : 'pounds' }
        : unclear(words, 'Say metric, or pounds to have pounds and ounces beside the grams.');
    },
    show: (system) => (system === 'metric' ? 'grams and kilograms' : 'grams, with pounds and ounces beside'),
    input: {
      kind: 'choices',
      choices: [
        { label: 'Grams and kilograms', value: 'metric' },
        { label: 'Pounds and ounces beside them', value: 'pounds' },
      ],
    },
    filledIn: (system) => [system],
  }),
};
