import type { FactName } from '../../domain/house/house-facts.js';

/** House facts that are looked at together, so that each fits one phone screen. */
export type FactGroup = {
  readonly key: string;
  readonly title: string;
  readonly facts: readonly FactName[];
};

/** Every fact belongs to one group. */
export const FACT_GROUPS: readonly FactGroup[] = [
  {
    key: 'first',
    title: 'Who, when, where',
    facts: ['timeZone', 'roastDays', 'roasterPerson', 'stewards', 'drums', 'channel'],
  },
  { key: 'asks', title: 'Roast asks', facts: ['noticeDays', 'cutOffHour', 'closedDays', 'batchStepMg'] },
  {
    key: 'table',
    title: 'The table',
    facts: [
      'formatByDefault',
      'blindByDefault',
      'vesselMl',
      'gramsPerLitre',
      'bowlsPerCup',
      'serveMl',
      'scaleStepMg',
      'scoopTolerancePoints',
    ],
  },
  {
    key: 'roasted',
    title: 'Roasted coffee',
    facts: ['restWindows', 'bestByDays', 'lossDefaultsBp', 'readyTimes', 'spareMg', 'purgeMg'],
  },
  {
    key: 'money',
    title: 'Money and units',
    facts: ['currency', 'roastingCostCentsPerKg', 'bagMg', 'marginBp', 'unitSystem'],
  },
];
