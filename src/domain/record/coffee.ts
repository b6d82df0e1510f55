/**
 * What a coffee does in a blend. `base`: body and familiar coffee flavour; `sweetness`: sweetness and
 * complexity; `highlight`: the vivid top.
 */
export const ROLES = ['base', 'sweetness', 'highlight'] as const;
export type Role = (typeof ROLES)[number];

export const PROCESSES = ['washed', 'natural', 'honey', 'other'] as const;
type Process = (typeof PROCESSES)[number];

export const LEVELS = ['light', 'medium', 'dark'] as const;
/** Roast level; decides loss and rest where the coffee has no facts of its own. */
export type Level = (typeof LEVELS)[number];

/** One lot the roastery can roast. */
export type Coffee = {
  readonly id: number;
  readonly name: string;
  readonly origin: string | null;
  readonly process: Process | null;
  readonly role: Role;
  readonly level: Level;
  /** Sold (and so roasted) on its own; a coffee that is not exists only inside blends. */
  readonly soldAlone: boolean;
  /** Weight loss in the roast, hundredths of a percent; null: the house's default for its level. */
  readonly lossBp: number | null;
  /** Per kg of green. */
  readonly greenPriceCents: number | null;
  /** Green in store, when the house keeps count of it here. */
  readonly greenMg: number | null;
  /** Green moisture, hundredths of a percent. */
  readonly moistureBp: number | null;
  /** Bulk density of the green. */
  readonly densityGPerL: number | null;
  /** Mean screen size, in 1/64 inch. */
  readonly screen: number | null;
  /** Wanted roast colour on the infrared scale of the house (higher is lighter). */
  readonly colour: number | null;
  /** What was added or infused, when anything was: asked about before a tasting (allergens). */
  readonly flavourAdded: string | null;
  readonly remarks: string | null;
};

/** Grams of one coffee roasted alone on one day. */
export type Lot = {
  readonly id: number;
  readonly coffeeId: number;
  readonly mg: number;
  /** Day in the house's time zone, 'YYYY-MM-DD'. */
  readonly roastedOn: string;
  readonly bestBy: string | null;
};

/**
 * Names of the colours on the "Gourmet" infrared scale, where higher is lighter (SCA(A) roast colour discs,
 * from memory).
 */
const COLOUR_NAMES: readonly (readonly [number, string])[] = [
  [90, 'very light'],
  [80, 'light'],
  [70, 'moderately light'],
  [60, 'light-medium'],
  [50, 'medium'],
  [40, 'moderately dark'],
  [30, 'dark'],
  [0, 'very dark'],
];

/** The name of a colour reading: 63 is "light-medium". Discs lie 10 apart; the nearest one names it. */
export function colourName(colour: number): string {
  return COLOUR_NAMES.find(([from]) => colour >= from)?.[1] ?? 'very dark';
}
