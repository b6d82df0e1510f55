export const TASTING_STATES = ['booked', 'ready', 'open', 'closed', 'decided', 'cancelled'] as const;
export type TastingState = (typeof TASTING_STATES)[number];
/** A table that can still be moved. */
export const NOT_BEGUN = ['booked', 'ready'] as const satisfies readonly TastingState[];
/** A table that is neither decided nor cancelled. */
export const LIVE_STATES = ['booked', 'ready', 'open', 'closed'] as const satisfies readonly TastingState[];

/** How a table is served: steeped in bowls, or brewed in batches and poured out for larger or new groups. */
export const TABLE_FORMATS = ['cupping', 'brewed'] as const;
export type TableFormat = (typeof TABLE_FORMATS)[number];

export const CUP_KINDS = ['component', 'blend', 'ratio', 'pour'] as const;
/** `blend`: the recipe as it stands; `ratio`: weighed beforehand; `pour`: spooned together at the table. */
type CupKind = (typeof CUP_KINDS)[number];

/** Share of one coffee in a cup, whole-number parts. */
export type CupPart = { readonly coffeeId: number; readonly parts: number };

export type Cup = {
  readonly id: number;
  readonly tastingId: number;
  /** Order on the table, from 0. */
  readonly position: number;
  readonly label: string;
  /** Three digits when the tasting is blind. */
  readonly code: string | null;
  readonly kind: CupKind;
  /** What is in it; one part for a component. */
  readonly parts: readonly CupPart[];
  readonly droppedAt: Date | null;
};

export type Tasting = {
  readonly id: number;
  /** Counts up per workspace: T1, T2 … */
  readonly number: number;
  readonly recipeVersionId: number;
  readonly channel: string;
  readonly host: string;
  readonly startsAt: Date;
  readonly state: TastingState;
  readonly blind: boolean;
  readonly format: TableFormat;
  /** How many tables are set alike. */
  readonly tables: number;
  /** Codes and orders come from it, so that they can be made again. */
  readonly seed: number;
  /** What the host is looking for, in words. */
  readonly brief: string | null;
  readonly batchMg: number | null;
  readonly openedAt: Date | null;
  readonly closedAt: Date | null;
  readonly decidedAt: Date | null;
  readonly winnerCupId: number | null;
  readonly decidedRule: string | null;
  readonly signedOffBy: string | null;
  /** The host has shown the tally to the table. */
  readonly tallyShown: boolean;
  readonly invited: readonly string[];
};

/** Whether a table is still ahead: booked or ready, not open yet. */
export function hasNotBegun({ state }: Pick<Tasting, 'state'>): boolean {
  return state === 'booked' || state === 'ready';
}

/** How a tasting is called in chat: T4. */
export function tastingName(tasting: { readonly number: number }): string {
  return `T${tasting.number}`;
}

/** How a cup is called before closing: its code when blind, else its label. */
export function cupName(cup: Pick<Cup, 'label' | 'code'>): string {
  return cup.code ?? cup.label;
}

/** What a small roastery blends at a time, where nothing else was said (common practice, no source). */
export const USUAL_BATCH_MG = 10_000_000;
