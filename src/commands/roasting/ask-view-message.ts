import type { ActionsBlock, Button } from '@slack/types';
import type { HouseFacts } from '../../domain/house/house-facts.js';
import { plainList } from '../../domain/measure/plain-list.js';
import { formatWeight } from '../../domain/measure/weight.js';
import type { AskChanged, StoredAsk } from '../../domain/record/ask.js';
import { type Coffee, colourName } from '../../domain/record/coffee.js';
import { type Tasting, tastingName } from '../../domain/record/tasting.js';
import type { LossEstimate } from '../../domain/roast/loss.js';
import type { FittingStart } from '../../domain/roast/roast-day.js';
import { formatDay, formatWhen, type LocalDay } from '../../domain/when/local-day.js';
import { button, buttons } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';

/** A table that an ask is for (or was for, with nothing wanted any more). */
export type AskTable = {
  readonly tasting: Tasting;
  readonly recipe: string;
  readonly mg: number;
  /** Whether the day on offer leaves the right rest; null when none is on offer. */
  readonly offerFits: boolean | null;
  /** Starts near the booked one that would fit: the day on offer, or else any roast day to come. */
  readonly dates: readonly FittingStart[];
  /** The nearest other coffee on the shelf with enough grams. */
  readonly nearest: { readonly coffeeId: number; readonly name: string } | null;
  /** A roast day that nobody refused would still fit the booked start. */
  readonly canAskAgain: boolean;
  /** Another ask, or the shelf, brings the coffee by now. */
  readonly served: boolean;
};

/** What came out, with the figures a roaster looks for. */
export type AskRoast = {
  readonly greenMg: number;
  readonly roastedMg: number;
  readonly roastedOn: LocalDay;
  readonly drum: string | null;
  readonly lossBp: number;
  readonly level: string | null;
  readonly colour: number | null;
  readonly remarks: string | null;
  /** The loss the batch was expected to have, when it lies more than 2 points from it. */
  readonly oddFromBp: number | null;
};

/** Everything the messages about one ask are made of. */
export type AskView = {
  readonly ask: StoredAsk;
  readonly coffee: Coffee;
  readonly house: Pick<HouseFacts, 'timeZone' | 'unitSystem' | 'noticeDays' | 'roasterPerson'>;
  readonly today: LocalDay;
  /** Day on which it was asked for the day it stands on. */
  readonly askedOn: LocalDay;
  readonly tables: readonly AskTable[];
  /** What the coffee's roasts have shown in the drum of this ask, and the name of that drum. */
  readonly loss: LossEstimate;
  readonly lossDrum: string | null;
  /** What the roaster should know of the charge: minimum, sample roaster, loads, green in store. */
  readonly remarks: readonly string[];
  /** What happened to it so far, the oldest first. */
  readonly events: readonly AskChanged[];
  readonly roast: AskRoast | null;
};

/* What several messages about an ask share; everything from people is escaped here. */

export function person(id: string): string {
  return `<@${id}>`;
}

export function people(ids: readonly string[]): string {
  return plainList([...new Set(ids)].map(person));
}

export function coffeeBold(view: AskView): string {
  return `*${mrkdwn(view.coffee.name)}*`;
}

/** Whole grams: nobody charges a drum to a tenth. */
export function weight(view: Pick<AskView, 'house'>, mg: number): string {
  return formatWeight(Math.round(mg / 1000) * 1000, view.house.unitSystem);
}

export function dayOf(view: Pick<AskView, 'today'>, day: LocalDay): string {
  return formatDay(day, view.today);
}

/** "*T4* Harbour Lamp, Friday 27 November, 14:00, with @ines". */
export function tableLine(view: AskView, table: AskTable): string {
  const when = formatWhen(table.tasting.startsAt, view.house.timeZone, new Date(`${view.today}T12:00:00Z`));
  return `*${tastingName(table.tasting)}* ${mrkdwn(table.recipe)}, ${when}, with ${person(table.tasting.host)}`;
}

/** "medium (about 62, light-medium)". */
export function colourWords(view: AskView): string {
  const { level, colour } = view.coffee;
  return colour === null ? level : `${level}, colour about ${colour} (${colourName(colour)})`;
}

/** The tables that still want some of it; only those of one host when one is given. */
export function tablesOf({ tables }: AskView, host?: string): readonly AskTable[] {
  return tables.filter((table) => table.mg > 0 && (host === undefined || table.tasting.host === host));
}

/** What those tables are called: T4. */
export function tableNames(view: AskView, host?: string): readonly string[] {
  return tablesOf(view, host).map((table) => tastingName(table.tasting));
}

/** Hosts of the tables and those who asked without a table, each once, the first asker first. */
export function askersOf(view: AskView): readonly string[] {
  const hosts = tablesOf(view).map(({ tasting }) => tasting.host);
  const all = [...hosts, ...view.ask.free.map((entry) => entry.person)];
  return [...new Set(all.length > 0 ? all : [view.ask.createdBy])];
}

const TAKEN_OFF = new Set(['left', 'freed']);

/** Who stood behind the ask when something happened to it: hosts of its tables, and people without one. */
export function partiesAt(view: AskView, eventId: number): readonly string[] {
  const hosts = new Map(view.tables.map((table) => [table.tasting.id, table.tasting.host]));
  const tables = new Map<number, boolean>();
  const free = new Map<string, number>();
  for (const { id, detail } of view.events) {
    if (id > eventId) break;
    if (detail.tasting !== undefined) tables.set(detail.tasting, !TAKEN_OFF.has(detail.what));
    if (detail.free) free.set(detail.free.person, detail.free.mg);
  }
  const wanting = [...tables].flatMap(([id, on]) => (on ? (hosts.get(id) ?? []) : []));
  return [...new Set([...wanting, ...[...free].flatMap(([who, mg]) => (mg > 0 ? who : []))])];
}

/** Everybody who ever stood behind the ask: what they were told has to stay true. */
export function partiesEver(view: AskView): readonly string[] {
  const hosts = view.tables.map(({ tasting }) => tasting.host);
  return [...new Set([...hosts, ...view.events.flatMap((event) => event.detail.free?.person ?? [])])];
}

/** The last thing of this kind that happened to the ask. */
export function lastEvent(view: AskView, what: string): AskChanged | undefined {
  return view.events.findLast((event) => event.detail.what === what);
}

/** Where the ask stands by now, in one sentence. */
export function whatNow(view: AskView): string {
  const { ask, roast } = view;
  const day = dayOf(view, ask.roastDay);
  if (ask.state === 'asked') return `Asked for ${day}, not answered yet.`;
  if (ask.state === 'accepted') return `It is on the plan for ${day}.`;
  if (ask.state === 'offered') return `${dayOf(view, ask.offeredDay ?? ask.roastDay)} is on offer.`;
  if (ask.state === 'declined') return 'It was declined.';
  if (ask.state === 'missed') return `It was not roasted on ${day}.`;
  if (ask.state === 'withdrawn') return 'The ask was withdrawn.';
  const out = roast ? `, ${weight(view, roast.roastedMg)} came out` : '';
  return `It was roasted on ${day}${out}.`;
}

/** Takes whoever taps it off the ask. */
export function withdrawButton({ ask }: AskView, label = 'Withdraw the ask', suffix = ''): Button {
  return button(label, `ask.withdraw${suffix}`, { ask: ask.id });
}

/** The answers to an ask that waits for one; `suffix` tells the buttons of several asks in one message apart. */
export function answerButtons({ ask }: AskView, suffix = ''): readonly ActionsBlock[] {
  const value = { ask: ask.id };
  return buttons(
    button('Accept', `ask.accept${suffix}`, value, { style: 'primary' }),
    button('Offer another day', `ask.offer${suffix}`, value),
    button('Decline', `ask.decline${suffix}`, value),
  );
}
