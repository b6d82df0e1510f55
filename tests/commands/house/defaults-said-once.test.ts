import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { factForm } from '../../../src/commands/house/house-messages.js';
import {
  DEFAULT_HOUSE,
  type HouseFacts,
  parseFact,
  showFacts,
} from '../../../src/domain/house/house-facts.js';
import { formatGrams } from '../../../src/domain/measure/weight.js';
import { USUAL_BATCH_MG } from '../../../src/domain/record/tasting.js';

/** A copy of the facts in which every default is another one. */
const OTHER: HouseFacts = {
  timeZone: 'Europe/Oslo',
  closedDays: [],
  roastDays: [1, 5],
  cutOffHour: 11,
  roasterPerson: null,
  stewards: [],
  drums: [
    {
      name: '40 kg drum',
      capacityMg: 40_000_000,
      minimumChargeMg: 12_000_000,
      usableShare: 0.9,
      kind: 'production',
    },
  ],
  scaleStepMg: 200,
  batchStepMg: 20_000,
  noticeDays: 9,
  restWindows: [
    { coffeeId: null, role: null, level: null, use: 'cupping', minDays: 3, maxDays: 21 },
    { coffeeId: null, role: null, level: null, use: 'brewed', minDays: 6, maxDays: 21 },
    { coffeeId: null, role: null, level: 'dark', use: 'brewed', minDays: 5, maxDays: 19 },
  ],
  bestByDays: 33,
  vesselMl: 222,
  gramsPerLitre: 66,
  bowlsPerCup: 4,
  serveMl: 37,
  spareMg: 77_000,
  purgeMg: 8_000,
  readyTimes: 3,
  lossDefaultsBp: { light: 1100, medium: 1400, dark: 1700 },
  currency: 'CHF',
  roastingCostCentsPerKg: 390,
  bagMg: 340_000,
  marginBp: 4400,
  unitSystem: 'pounds',
  scoopTolerancePoints: 1.5,
  channel: null,
  blindByDefault: true,
  formatByDefault: 'brewed',
};

/** What each fact's old default is called in a sentence. */
const OLD: Partial<Record<keyof HouseFacts, RegExp>> = {
  roastDays: /tue thu|Tuesday and Thursday/iu,
  cutOffHour: /\b16\b/u,
  drums: /\b15 kg|3\.75|\b80 %|\b25 %/u,
  scaleStepMg: /\b0\.1 g/u,
  batchStepMg: /\b10 g/u,
  noticeDays: /\b7 days|a week/u,
  restWindows: /\bnext day|\b4 days|\bdark from 2|1[-–]14|4[-–]14|2[-–]10/u,
  bestByDays: /\b30\b/u,
  vesselMl: /\b207\b/u,
  gramsPerLitre: /\b55\b|8\.25/u,
  bowlsPerCup: /\b2\b/u,
  serveMl: /\b45\b/u,
  spareMg: /\b50 g/u,
  purgeMg: /\b5 g/u,
  readyTimes: /\b2\b|twice/u,
  lossDefaultsBp: /\b13\b|15\.5|18\.5/u,
  currency: /EUR|€/u,
  roastingCostCentsPerKg: /2\.50/u,
  bagMg: /\b250 g/u,
  marginBp: /\b60 %/u,
  scoopTolerancePoints: /\b2\.5\b/u,
};

const NONSENSE = 'frobnicated sideways';

function textsOf(usual: HouseFacts) {
  return showFacts(usual, usual).map((fact) => {
    const refused = parseFact(fact.name, NONSENSE, usual, usual);
    const texts = [fact.source, fact.example, JSON.stringify(factForm(fact)), JSON.stringify(refused)];
    return { name: fact.name, text: texts.join('\n') };
  });
}

test('with other defaults no form, source, example or refusal says an old one', () => {
  for (const { name, text } of textsOf(OTHER)) {
    expect(
      OTHER[name] === null ||
        JSON.stringify(OTHER[name]) !== JSON.stringify(DEFAULT_HOUSE[name]) ||
        ['closedDays', 'stewards'].includes(name),
      name,
    ).toBe(true);
    expect(text, name).not.toMatch(OLD[name] ?? /undefined|NaN/u);
  }
  // The patterns do find what they look for where it is said.
  for (const { name, text } of textsOf(DEFAULT_HOUSE)) if (OLD[name]) expect(text, name).toMatch(OLD[name]);
});

/** The texts in quotes of a file of the source, without its comments. */
function quoted(path: string): readonly string[] {
  const code = readFileSync(path, 'utf8')
    .replace(/\/\*[\s\S]*?\*\//gu, '')
    .replace(/^\s*\/\/.*$/gmu, '');
  return [...code.matchAll(/'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`/gu)].map(([text]) => text);
}

test('no sentence of the source repeats a default with its unit', () => {
  const said = showFacts(DEFAULT_HOUSE)
    .filter(({ value }) => /^\d/u.test(value))
    .map(({ value }) => value.replace(/ (?:the day before|after roasting|of .*|times .*|per .*)$/u, ''))
    .filter((value) => /\D/u.test(value));
  expect(said).toContain('207 mL');
  const words = [...said, formatGrams(USUAL_BATCH_MG), '80 %', '15 kg', '3.75 kg', '4 days', 'brewed 4'];
  const files = ['domain', 'commands', 'kit'].flatMap((folder) =>
    readdirSync(`src/${folder}`, { recursive: true, encoding: 'utf8' })
      .filter((file) => file.endsWith('.ts') && !file.startsWith('notes/'))
      .map((file) => `src/${folder}/${file}`),
  );
  const repeating = files.flatMap((file) =>
    quoted(file).flatMap((text) =>
      words
        .filter((word) => new RegExp(`(?<![\\d.])${word.replace(/\./gu, '\\.')}(?!\\w)`, 'u').test(text))
        .map((word) => `${file}: ${word} in ${text}`),
    ),
  );
  expect(repeating).toEqual([]);
});
