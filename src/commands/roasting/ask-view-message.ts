import type { HouseFacts } from '../../domain/house/house-facts.js';
import type { Ask, AskState } from '../../domain/record/ask.js';
import type { Coffee } from '../../domain/record/coffee.js';
import type { LossEstimate } from '../../domain/roast/loss-estimate.js';
import type { FittingStart } from '../../domain/roast/roast-day.js';
import type { LocalDay } from '../../domain/when/local-day.js';

/** A table that an ask is for (or was for, with nothing wanted any more). */
export type AskTable = {
  readonly tastingId: number;
  /** T4. */
  readonly name: string;
  readonly recipe: string;
  readonly host: string;
  readonly startsAt: Date;
  readonly mg: number;
  /** Whether the day on offer leaves the right rest; null when none is on offer. */
  readonly offerFits: boolean | null;
  /** Starts near the booked one that would fit: the day on offer, or else any roast day to come. */
  readonly dates: readonly FittingStart[];
  /** The nearest other coffee on the shelf with enough grams. */
  readonly nearest: { readonly coffeeId: number; readonly name: string } | null;
  /** A roast day that nobody refused would still fit the booked start. */
  readonly canAskAgain: boolean;
  /** Not begun, decided or cancelled: something can still be done about it. */
  readonly ahead: boolean;
  /** Another ask, or the shelf, brings the coffee by now. */
  readonly served: boolean;
};

/** One entry of what happened to an ask, as far as messages tell it. */
export type AskEvent = {
  readonly id: number;
  readonly what: string;
  readonly who: string;
  readonly to: AskState;
  readonly day: LocalDay | null;
  readonly because: string | null;
  readonly greenMg: readonly [number, number] | null;
  /** The tasting that was put on the ask or taken off it. */
  readonly tasting: number | null;
  /** What a person wants without a table from then on. */
  readonly free: { readonly person: string; readonly mg: number } | null;
  /** Which reminder came, when the event is one. */
  readonly reminder: string | null;
};

/** What came out, with the figures a roaster looks for. */
export type AskRoast = {
  readonly greenMg: number;
  readonly roastedMg: number;
  readonly roastedOn: LocalDay;
  readonly lossBp: number;
  readonly level: string | null;
  readonly colour: number | null;
  readonly remarks: string | null;
  /** The loss the batch was expected to have, when it lies more than 2 points from it. */
  readonly oddFromBp: number | null;
};

/** Everything the messages about one ask are made of. */
export type AskView = {
  readonly ask: Ask;
  readonly askedBy: string;
  readonly coffee: Coffee;
  readonly house: Pick<HouseFacts, 'timeZone' | 'unitSystem' | 'noticeDays' | 'roasterPerson'>;
  readonly today: LocalDay;
  /** Day on which it was asked for the day it stands on. */
  readonly askedOn: LocalDay;
  readonly tables: readonly AskTable[];
  readonly free: readonly { readonly person: string; readonly mg: number }[];
  readonly loss: LossEstimate;
  /** What the roaster should know of the charge: minimum, sample roaster, loads, green in store. */
  readonly remarks: readonly string[];
  readonly events: readonly AskEvent[];
  readonly roast: AskRoast | null;
};
