import type { HouseFacts } from '../domain/house/house-facts.js';
import type { CoffeeFacts } from '../store/coffees.js';

/*
 * The one scenario of the demo. Everything in it is invented: coffees, weights, prices and measurements
 * are plausible and nobody's.
 */

/** A coffee of the demo, and how much of it stands roasted on the shelf. */
type DemoCoffee = CoffeeFacts & { readonly roastedMg: number };

const NOTHING_MORE = { greenMg: null, flavourAdded: null, remarks: null };

export const DEMO_COFFEES: readonly DemoCoffee[] = [
  {
    ...NOTHING_MORE,
    name: 'Chirinos',
    origin: 'Peru',
    process: 'washed',
    role: 'base',
    level: 'medium',
    soldAlone: false,
    lossBp: 1550,
    greenPriceCents: 720,
    greenMg: 60_000_000,
    moistureBp: 1080,
    densityGPerL: 705,
    screen: 16,
    colour: 62,
    roastedMg: 0,
  },
  {
    ...NOTHING_MORE,
    name: 'Kayanza Hill',
    origin: 'Burundi',
    process: 'washed',
    role: 'sweetness',
    level: 'medium',
    soldAlone: true,
    lossBp: 1500,
    greenPriceCents: 860,
    greenMg: 45_000_000,
    moistureBp: 1050,
    densityGPerL: 725,
    screen: 15,
    colour: 64,
    roastedMg: 600_000,
  },
  {
    ...NOTHING_MORE,
    name: 'Nubosa Natural',
    origin: 'Costa Rica',
    process: 'natural',
    role: 'highlight',
    level: 'light',
    soldAlone: true,
    lossBp: 1400,
    greenPriceCents: 1140,
    greenMg: 30_000_000,
    moistureBp: 1130,
    densityGPerL: 690,
    screen: 16,
    colour: 72,
    roastedMg: 600_000,
  },
];

const JOINED_GREEN = 'Chirinos + Kayanza Hill';

export const DEMO_BLEND = {
  name: 'Harbour Lamp',
  parts: [
    { coffee: 'Chirinos', parts: 50, roastGroup: JOINED_GREEN },
    { coffee: 'Kayanza Hill', parts: 30, roastGroup: JOINED_GREEN },
    { coffee: 'Nubosa Natural', parts: 20, roastGroup: null },
  ],
} as const;

/** What the demo roastery tells about itself. */
export function demoHouse(people: ReadonlyMap<string, string>, channel: string): Partial<HouseFacts> {
  const steward = people.get('ines');
  return {
    timeZone: 'Europe/Lisbon',
    roastDays: [2, 4],
    roasterPerson: people.get('bram') ?? null,
    stewards: steward === undefined ? [] : [steward],
    drums: [
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
    ],
    currency: 'EUR',
    channel,
  };
}
