import { z } from 'zod';
import { LEVELS } from '../record/coffee.js';
import { ROLES } from '../record/role.js';
import { TABLE_FORMATS } from '../record/tasting.js';
import { isLocalDay } from '../when/local-day.js';
import { isTimeZone } from '../when/wall-time.js';

const Mg = z.number().int().nonnegative();
const PositiveMg = z.number().int().positive();
const Bp = z.number().int().min(0).max(10_000);

/** A roaster of the house; `capacityMg` is the stated capacity in green coffee. */
export const Drum = z.object({
  name: z.string().min(1).max(60),
  capacityMg: PositiveMg,
  minimumChargeMg: Mg,
  /** Share of the stated capacity that is used at most, 0..1. */
  usableShare: z.number().gt(0).max(1).default(0.8),
  kind: z.enum(['production', 'sample']),
});
export type Drum = z.output<typeof Drum>;

/**
 * How many days after its roast day a coffee may come to the table. The window that fits most closely
 * holds: one for the coffee before one for its role, level and use; null fits everything.
 */
export const RestWindow = z
  .object({
    coffeeId: z.number().int().nullable().default(null),
    role: z.enum(ROLES).nullable().default(null),
    level: z.enum(LEVELS).nullable().default(null),
    use: z.enum(TABLE_FORMATS).nullable().default(null),
    minDays: z.number().int().min(0).max(60),
    maxDays: z.number().int().min(0).max(120),
  })
  .refine(
    (window) => window.minDays <= window.maxDays,
    'The longest rest cannot be shorter than the shortest.',
  );
export type RestWindow = z.output<typeof RestWindow>;

/** A day on which nobody roasts or tastes. */
const ClosedDay = z.object({
  day: z.string().refine(isLocalDay),
  name: z.string().max(60).default('closed'),
});

/**
 * What a roastery tells the bot about itself. Every fact has a default, so `HouseFacts.parse({})` is a house
 * on its first day; `fact-sources.ts` says where each default comes from.
 */
export const HouseFacts = z.object({
  timeZone: z.string().refine(isTimeZone, 'I do not know that time zone.').default('UTC'),
  closedDays: z.array(ClosedDay).max(400).default([]),
  /** Weekdays on which the house roasts, 0 for Sunday. */
  roastDays: z.array(z.number().int().min(0).max(6)).min(1).default([2, 4]),
  /** Until this hour of the day before, an ask can join a roast day. */
  cutOffHour: z.number().int().min(0).max(23).default(16),
  /** Slack user id of the person who answers roast asks. */
  roasterPerson: z.string().nullable().default(null),
  /** Slack user ids of those who may do what a host may. */
  stewards: z.array(z.string()).default([]),
  drums: z
    .array(Drum)
    .min(1)
    .default([
      {
        name: '15 kg drum',
        capacityMg: 15_000_000,
        minimumChargeMg: 3_750_000,
        usableShare: 0.8,
        kind: 'production',
      },
      {
        name: '1 kg sample roaster',
        capacityMg: 1_000_000,
        minimumChargeMg: 100_000,
        usableShare: 0.8,
        kind: 'sample',
      },
    ]),
  /** What the scale at the table shows. */
  scaleStepMg: PositiveMg.default(100),
  /** What the scale at the drum shows; charges and batches are weighed to it. */
  batchStepMg: PositiveMg.default(10_000),
  /** Calendar days of notice under which a standalone roast is a favour. */
  noticeDays: z.number().int().min(0).max(60).default(7),
  restWindows: z
    .array(RestWindow)
    .min(1)
    .default([
      { coffeeId: null, role: null, level: null, use: 'cupping', minDays: 1, maxDays: 14 },
      { coffeeId: null, role: null, level: null, use: 'brewed', minDays: 4, maxDays: 14 },
      { coffeeId: null, role: null, level: 'dark', use: 'brewed', minDays: 2, maxDays: 10 },
    ]),
  /** Days after roasting until which a roasted lot is kept for the table. */
  bestByDays: z.number().int().min(1).max(365).default(30),
  /** Millilitres of water in one cupping bowl. */
  vesselMl: z.number().positive().max(1000).default(207),
  gramsPerLitre: z.number().min(30).max(100).default(55),
  /** Bowls of every sample on one table. */
  bowlsPerCup: z.number().int().min(1).max(5).default(2),
  /** Millilitres poured out for each taster in the brewed format. */
  serveMl: z.number().min(15).max(200).default(45),
  /** Grams kept back per coffee. */
  spareMg: Mg.default(50_000),
  /** Grams of each sample run through the grinder before it. */
  purgeMg: Mg.default(5_000),
  /** How many times what the table takes is kept ready: 2 allows every cup to be made again. */
  readyTimes: z.number().min(1).max(4).default(2),
  lossDefaultsBp: z
    .object({ light: Bp, medium: Bp, dark: Bp })
    .default({ light: 1300, medium: 1550, dark: 1850 }),
  currency: z
    .string()
    .regex(/^[A-Z]{3}$/u)
    .default('EUR'),
  /** Cost of roasting a kilogram of roasted coffee: labour, gas, packing. */
  roastingCostCentsPerKg: z.number().int().nonnegative().default(250),
  bagMg: PositiveMg.default(250_000),
  /** Margin as a share of the price, in hundredths of a percent. */
  marginBp: z.number().int().min(0).max(9_500).default(6000),
  unitSystem: z.enum(['metric', 'pounds']).default('metric'),
  scoopTolerancePoints: z.number().min(0.5).max(10).default(2.5),
  /** Slack channel id in which tastings are booked when none is said. */
  channel: z.string().nullable().default(null),
  /** Codes instead of letters when a booking does not say. */
  blindByDefault: z.boolean().default(false),
  formatByDefault: z.enum(TABLE_FORMATS).default('cupping'),
});
export type HouseFacts = z.output<typeof HouseFacts>;
export type FactName = keyof HouseFacts;

/** The facts of a house that has told nothing yet. */
export const DEFAULT_HOUSE: HouseFacts = HouseFacts.parse({});
