import { plainList } from '../../domain/measure/plain-list.js';
import { formatWeight } from '../../domain/measure/weight.js';
import { colourName } from '../../domain/roast/colour.js';
import { formatDay, formatWhen, type LocalDay } from '../../domain/when/local-day.js';
import { mrkdwn } from '../../kit/escape.js';
import type { AskTable, AskView } from './ask-view-message.js';

/* Phrases that several messages about an ask share; everything from people is escaped here. */

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

function whenOf(view: AskView, table: Pick<AskTable, 'startsAt'>): string {
  return formatWhen(table.startsAt, view.house.timeZone, new Date(`${view.today}T12:00:00Z`));
}

/** "*T4* Harbour Lamp, Friday 27 November, 14:00, with @ines". */
export function tableLine(view: AskView, table: AskTable): string {
  return `*${table.name}* ${mrkdwn(table.recipe)}, ${whenOf(view, table)}, with ${person(table.host)}`;
}

/** "medium (about 62, light-medium)". */
export function colourWords(view: AskView): string {
  const { level, colour } = view.coffee;
  return colour === null ? level : `${level}, colour about ${colour} (${colourName(colour)})`;
}

/** Hosts of the tables and those who asked without a table, each once, the first asker first. */
export function askersOf(view: AskView): readonly string[] {
  const wanting = view.tables.filter((table) => table.mg > 0).map((table) => table.host);
  const all = [...wanting, ...view.free.map((entry) => entry.person)];
  return [...new Set(all.length > 0 ? all : [view.askedBy])];
}

const TAKEN_OFF = new Set(['left', 'freed']);

/** Who stood behind the ask when something happened to it: hosts of its tables, and people without one. */
export function partiesAt(view: AskView, eventId: number): readonly string[] {
  const hosts = new Map(view.tables.map((table) => [table.tastingId, table.host]));
  const tables = new Map<number, boolean>();
  const free = new Map<string, number>();
  for (const event of view.events) {
    if (event.id > eventId) break;
    if (event.tasting !== null) tables.set(event.tasting, !TAKEN_OFF.has(event.what));
    if (event.free) free.set(event.free.person, event.free.mg);
  }
  const wanting = [...tables].flatMap(([id, on]) => (on ? (hosts.get(id) ?? []) : []));
  return [...new Set([...wanting, ...[...free].flatMap(([who, mg]) => (mg > 0 ? who : []))])];
}

/** Everybody who ever stood behind the ask: what they were told has to stay true. */
export function partiesEver(view: AskView): readonly string[] {
  const hosts = view.tables.map((table) => table.host);
  return [...new Set([...hosts, ...view.events.flatMap((event) => event.free?.person ?? [])])];
}

/** The last thing of this kind that happened to the ask. */
export function lastEvent(view: AskView, what: string): AskView['events'][number] | undefined {
  return view.events.findLast((event) => event.what === what);
}
