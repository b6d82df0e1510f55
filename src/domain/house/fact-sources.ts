import type { FactName } from './house-facts.js';

const PRACTICE = 'common practice, no source';
const OURS = 'our choice until you say otherwise';

/** Where each default of the house facts comes from, in words short enough to stand beside it. */
export const FACT_SOURCES: ReadonlyMap<FactName, string> = new Map<FactName, string>([
  ['timeZone', 'only you can know'],
  ['closedDays', 'only you can know'],
  ['roastDays', 'only you can know; Tuesday and Thursday until you say'],
  ['cutOffHour', `an afternoon to plan the next day: ${PRACTICE}`],
  ['roasterPerson', 'only you can know'],
  ['stewards', 'only you can know'],
  [
    'drums',
    'only you can know; at most 80 % of capacity is trade advice, at least 25 % is one of several figures quoted',
  ],
  ['scaleStepMg', '0.1 g keeps a dose well inside the ± 0.25 g of the SCA cupping standards'],
  ['batchStepMg', `10 g on a floor scale: ${PRACTICE}`],
  ['noticeDays', `a week for a standalone roast: ${PRACTICE}`],
  [
    'restWindows',
    `cupping from the next day (SCA cupping standards: 8–24 h), brewed from 4 days, dark from 2 (roasters’ advice, which differs); longest rest: ${PRACTICE}`,
  ],
  ['bestByDays', PRACTICE],
  ['vesselMl', 'the smallest bowl of the SCA cupping standards (207–266 mL)'],
  [
    'gramsPerLitre',
    '55 g/L: 8.25 g per 150 mL in the SCA cupping standards, and the SCAA brewing standard of 2015',
  ],
  ['bowlsPerCup', `2–3 in house, 5 for a formal assessment: ${PRACTICE}`],
  ['serveMl', `30–60 mL for each taster: ${PRACTICE}`],
  ['spareMg', `50 g per coffee: ${PRACTICE}`],
  ['purgeMg', `a few beans of the next sample first: trade training; the grams: ${PRACTICE}`],
  ['readyTimes', `twice what the cups take: ${PRACTICE}`],
  ['lossDefaultsBp', 'between trade figures that disagree by about 3 points; replaced by your own roasts'],
  ['currency', OURS],
  ['roastingCostCentsPerKg', OURS],
  ['bagMg', OURS],
  ['marginBp', OURS],
  ['unitSystem', OURS],
  ['scoopTolerancePoints', `${OURS}; scooping by volume is no finer`],
  ['channel', 'the channel you book in'],
  ['blindByDefault', OURS],
  ['formatByDefault', OURS],
]);
