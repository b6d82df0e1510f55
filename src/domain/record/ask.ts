export const ASK_STATES = [
  'asked',
  'accepted',
  'offered',
  'declined',
  'roasted',
  'missed',
  'withdrawn',
] as const;
export type AskState = (typeof ASK_STATES)[number];

/** Asks that may still bring coffee. */
export const LIVE_ASKS: readonly AskState[] = ['asked', 'accepted', 'offered'];

/** A request to roast one component alone; several tastings may stand behind one charge. */
export type Ask = {
  readonly id: number;
  readonly coffeeId: number;
  readonly roaster: string;
  /** Roasted grams expected from the charge. */
  readonly roastedMg: number;
  /** Green to charge. */
  readonly greenMg: number;
  /** Loss used, hundredths of a percent. */
  readonly lossBp: number;
  readonly drum: string | null;
  /** Roasted grams beyond what is needed, from a minimum charge. */
  readonly overMg: number;
  /** Day in the house's time zone. */
  readonly roastDay: string;
  readonly offeredDay: string | null;
  readonly state: AskState;
  /** Shorter notice than the house asks for. */
  readonly favour: boolean;
  readonly reason: string;
  readonly roastId: number | null;
  /** Which tastings it is for and how many roasted milligrams each needs. */
  readonly wanted: readonly { readonly tastingId: number; readonly mg: number }[];
  /** Who wants grams of it without a tasting. */
  readonly free: readonly { readonly person: string; readonly mg: number }[];
};

/** Roasted milligrams wanted of an ask, over all tables and people. */
export function wantedMg(ask: Pick<Ask, 'wanted' | 'free'>): number {
  return [...ask.wanted, ...ask.free].reduce((sum, entry) => sum + entry.mg, 0);
}

/** Roasted milligrams that one tasting wants of an ask. */
export function wantedBy(ask: Pick<Ask, 'wanted'>, tastingId: number): number {
  return ask.wanted.find((entry) => entry.tastingId === tastingId)?.mg ?? 0;
}
