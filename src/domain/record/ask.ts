import { z } from 'zod';

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

/** An ask as it is stored: with who asked first and when. */
export type StoredAsk = Ask & {
  readonly createdBy: string;
  readonly createdAt: Date;
};

/** What a change of an ask was about; everything is optional because each kind of change says its own part. */
export const AskDetail = z.object({
  /** Which change it was: 'asked', 'joined', 'accept', 'offer', 'agree', 'decline', 'grams' … */
  what: z.string(),
  /** Grams that a person wants without a tasting, from now on (0: none). */
  free: z.object({ person: z.string(), mg: z.number().int().nonnegative() }).optional(),
  /** The day that was asked for or offered. */
  day: z.string().optional(),
  /** The asked day that the roaster offered another one for. */
  notOn: z.string().optional(),
  /** The roaster's or the bot's reason, in words. */
  because: z.string().nullable().optional(),
  /** Green to charge before and after, when the amount changed. */
  greenMg: z.tuple([z.number().int(), z.number().int()]).optional(),
  /** Which reminder came, for `what: 'reminded'`. */
  kind: z.string().optional(),
  /** The tasting that was put on the ask or taken off it. */
  tasting: z.number().int().optional(),
});
export type AskDetail = z.output<typeof AskDetail>;

/** One entry of an ask's history, the oldest first in lists. */
export type AskChanged = HistoryEntry & {
  readonly id: number;
  readonly from: AskState | null;
  readonly to: AskState;
};

/** Who changed an ask, when, and what it was about. */
export type HistoryEntry = { readonly who: string; readonly at: Date; readonly detail: AskDetail };

/** Roasted milligrams wanted of an ask, over all tables and people. */
export function wantedMg(ask: Pick<Ask, 'wanted' | 'free'>): number {
  return [...ask.wanted, ...ask.free].reduce((sum, entry) => sum + entry.mg, 0);
}

/** Roasted milligrams that one tasting wants of an ask. */
export function wantedBy(ask: Pick<Ask, 'wanted'>, tastingId: number): number {
  return ask.wanted.find((entry) => entry.tastingId === tastingId)?.mg ?? 0;
}
