import { daysAfter, formatDay, formatTime, formatWhen, type LocalDay, localDay } from './local-day.js';
import { type ReadDay, readDay } from './read-day.js';
import { clockMinutes, wallTime } from './wall-time.js';

/** A date and time read from chat, with the sentence that lets people check it. */
export type ParsedWhen =
  | {
      readonly ok: true;
      readonly at: Date;
      /** "Friday 27 November, 14:00", with the year when it is not this one. */
      readonly echo: string;
      /** What else has to be said: a clock change, an assumed afternoon; else null. */
      readonly note: string | null;
    }
  | { readonly ok: false; readonly message: string };

/** A day read from chat. */
export type ParsedDay =
  | { readonly ok: true; readonly day: LocalDay; readonly echo: string }
  | { readonly ok: false; readonly message: string };

/** A time found among other words, with the words that are left. */
export type FoundWhen = { readonly when: ParsedWhen; readonly rest: readonly string[] };

function refused(message: string): { readonly ok: false; readonly message: string } {
  return { ok: false, message };
}

const HOW_TO = 'Say it like fri 14:00, tomorrow 2pm or 27 nov 14:00.';

/**
 * Reads a date and a time in the house's time zone: "fri 14:00", "tomorrow 2pm", "next tuesday 9:30",
 * "27 nov 14:00", "2026-11-27 14:00", "in 3 days 14:00". Order does not matter. A time in the past is refused.
 */
export function parseWhen(text: string, now: Date, zone: string): ParsedWhen {
  const words = toWords(text);
  const found = findWhen(words, now, zone);
  if (found === null) return refused(`I could not read “${text.trim()}” as a day and a time. ${HOW_TO}`);
  if (found.when.ok && found.rest.length > 0) {
    return refused(`I read ${found.when.echo}, but not “${found.rest.join(' ')}”. ${HOW_TO}`);
  }
  return found.when;
}

/**
 * Finds a date and time among other words, such as those of a booking, and returns the words that are left.
 * Null when there is neither. Words are matched whatever their case and returned as they were.
 */
export function findWhen(words: readonly string[], now: Date, zone: string): FoundWhen | null {
  const lower = words.map(plainWord);
  const today = localDay(now, zone);
  for (let at = 0; at < lower.length; at += 1) {
    const day = readDay(lower, at, today);
    const time = readTime(lower, day ? at + day.used : at);
    if (!day && !time) continue;
    const used = (day?.used ?? 0) + (time?.used ?? 0);
    const dayAfterTime = !day && time ? readDay(lower, at + time.used, today) : null;
    const rest = [...words.slice(0, at), ...words.slice(at + used + (dayAfterTime?.used ?? 0))];
    return { when: decide(day ?? dayAfterTime, time, now, zone), rest };
  }
  return null;
}

/** Reads a day: "by thu", "tomorrow", "27 nov". A weekday that is today's name means a week from now. */
export function parseDay(text: string, now: Date, zone: string): ParsedDay {
  const words = toWords(text).map(plainWord);
  const today = localDay(now, zone);
  const read = readDay(words, 0, today);
  if (!read || (read.kind === 'day' && read.used < words.length)) {
    return refused(`I could not read “${text.trim()}” as a day. Say it like thu, tomorrow or 27 nov.`);
  }
  if (read.kind === 'impossible') return refused(`${read.message} Say it like thu or 27 nov.`);
  const day = read.todayOrNextWeek ? daysAfter(read.day, 7) : read.day;
  if (day < today) return refused(`${formatDay(day, today)} is past. Say a day to come, like thu or 27 nov.`);
  return { ok: true, day, echo: formatDay(day, today) };
}

/**
 * Reads a day that lies behind: "tue" is the latest Tuesday, today included. A date still to come is refused.
 *
 * @param words in lower case
 */
export function parsePastDay(words: readonly string[], today: LocalDay): ParsedDay {
  const said = words.join(' ');
  const past = (day: LocalDay): ParsedDay => ({ ok: true, day, echo: formatDay(day, today) });
  if (said === 'yesterday') return past(daysAfter(today, -1));
  const read = readDay(words, 0, today);
  if (!read || read.used < words.length) {
    return refused(
      `I could not read “${said}” as a roast day. Say it like roasted tue, roasted yesterday or roasted 24 nov.`,
    );
  }
  if (read.kind === 'impossible') return refused(read.message);
  const weekday = words.length === 1 && read.day > today && read.day <= daysAfter(today, 6);
  const day = weekday && /^[a-z]+$/u.test(said) && said !== 'tomorrow' ? daysAfter(read.day, -7) : read.day;
  if (day <= today) return past(day);
  return refused(
    `${formatDay(day, today)} is still to come. A roast on the shelf has a day behind it, like roasted tue.`,
  );
}

function decide(day: ReadDay | null, time: ReadTime | null, now: Date, zone: string): ParsedWhen {
  const today = localDay(now, zone);
  if (day?.kind === 'impossible') return refused(`${day.message} ${HOW_TO}`);
  if (!time) {
    const said = day ? formatDay(day.day, today) : 'That';
    return refused(`${said}, at what time? ${HOW_TO}`);
  }
  const past = time.minutes <= clockMinutes(now, zone);
  const wanted = day?.todayOrNextWeek && past ? daysAfter(day.day, 7) : (day?.day ?? today);
  const { at, clockChange } = wallTime(wanted, time.minutes, zone);
  const echo = formatWhen(at, zone, now);
  if (at.getTime() <= now.getTime())
    return refused(`${echo} is past. Say a day and time to come, like fri 14:00.`);
  return { ok: true, at, echo, note: noteOn(clockChange, time, at, zone) };
}

function noteOn(change: 'gap' | 'twice' | null, time: ReadTime, at: Date, zone: string): string | null {
  if (change === 'gap')
    return `The clocks go forward then and skip that time, so I took ${formatTime(at, zone)}.`;
  if (change === 'twice')
    return `The clocks go back then and ${formatTime(at, zone)} comes twice, so I took the first.`;
  return time.assumedAfternoon ? `I took that as the afternoon, ${formatTime(at, zone)}.` : null;
}

function toWords(text: string): readonly string[] {
  return text
    .trim()
    .split(/\s+/u)
    .filter((word) => word !== '');
}

/** Lower case, without a comma behind it or the dot of a short form like "Fri." or "Nov.". */
function plainWord(word: string): string {
  return word
    .toLowerCase()
    .replace(/[,;]$/u, '')
    .replace(/^(\p{L}+)\.$/u, '$1');
}

/** A clock time read from the front of some words: minutes since midnight, and how many words it took. */
type ReadTime = {
  readonly minutes: number;
  readonly used: number;
  /** True when "2:30" without am or pm was taken as the afternoon. */
  readonly assumedAfternoon: boolean;
};

/** Nobody cups before this hour; "2:30" without am or pm is the afternoon. */
const EARLIEST_HOUR = 7;

/**
 * Reads a clock time from the words at `at`: "14:00", "14.30", "2pm", "2:30 pm", "14h", "14h30", "noon",
 * "at 14". Null when no time stands there.
 *
 * @param words lower-case words without commas
 */
function readTime(words: readonly string[], at: number): ReadTime | null {
  const [first = '', second = ''] = [words[at], words[at + 1]];
  if (first === 'at' || first === '@') {
    const later = readTime(words, at + 1) ?? bareHour(second);
    return later && { ...later, used: later.used + 1 };
  }
  if (first === 'noon' || first === 'midday') return { minutes: 12 * 60, used: 1, assumedAfternoon: false };
  if (/^o['’]?clock$/u.test(second)) return oClock(first);
  const half = /^([ap])\.?m\.?$/u.exec(second)?.[1];
  const joined = /^(\d{1,2})(?:[:.](\d{2}))?([ap])\.?m\.?$/u.exec(first);
  if (joined) return twelveHours(joined[1], joined[2], joined[3], 1);
  const parted = /^(\d{1,2})(?:[:.](\d{2}))?$/u.exec(first);
  if (parted && half !== undefined) return twelveHours(parted[1], parted[2], half, 2);
  const plain = /^(\d{1,2})[:.](\d{2})$/u.exec(first) ?? /^(\d{1,2})h(\d{2})?$/u.exec(first);
  if (!plain) return null;
  return dayHours(plain[1] ?? '', Number(plain[2] ?? 0));
}

function twelveHours(hour = '', minute = '0', half = 'a', used = 1): ReadTime | null {
  const [hours, minutes] = [Number(hour), Number(minute)];
  if (hours < 1 || hours > 12 || minutes > 59) return null;
  return { minutes: ((hours % 12) + (half === 'p' ? 12 : 0)) * 60 + minutes, used, assumedAfternoon: false };
}

function dayHours(hour: string, minutes: number): ReadTime | null {
  const hours = Number(hour);
  if (hours > 23 || minutes > 59) return null;
  const afternoon = hour.length === 1 && hours > 0 && hours < EARLIEST_HOUR;
  return { minutes: (hours + (afternoon ? 12 : 0)) * 60 + minutes, used: 1, assumedAfternoon: afternoon };
}

function oClock(word: string): ReadTime | null {
  const hour = bareHour(word);
  return hour && { ...hour, used: 2 };
}

function bareHour(word: string): ReadTime | null {
  return /^\d{1,2}$/u.test(word) ? dayHours(word, 0) : null;
}
