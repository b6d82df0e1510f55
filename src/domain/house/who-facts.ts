import { z } from 'zod';
import { plainList } from '../measure/plain-list.js';
import { formatGrams } from '../measure/weight.js';
import { formatShortDay, isLocalDay, WEEKDAY_NAMES } from '../when/local-day.js';
import { WEEKDAYS } from '../when/read-day.js';
import { findTimeZone, isTimeZone } from '../when/wall-time.js';
import { Drum, drumSource, drumWords, exampleDrums, readDrums, showDrums, USUAL_DRUMS } from './drum.js';
import {
  fact,
  numberIn,
  ONLY_YOU,
  PositiveMg,
  PRACTICE,
  peopleIn,
  readAs,
  unclear,
  WEIGHT,
  whole,
} from './fact.js';

/** A day on which nobody roasts or tastes. */
const ClosedDay = z.object({
  day: z.string().refine(isLocalDay),
  name: z.string().max(60).default('closed'),
});

const Drums = z.array(Drum).min(1);

function weekdays(days: readonly number[]): string {
  return plainList(days.map((day) => WEEKDAY_NAMES[day] ?? ''));
}

/** Facts about people, places, days and roasters, and what asks go by. */
export const WHO_FACTS = {
  timeZone: fact(z.string().refine(isTimeZone, 'I do not know that time zone.').default('UTC'), {
    called: ['time zone', 'timezone', 'zone'],
    group: 'first',
    isAskedFirst: true,
    source: ONLY_YOU,
    example: () => 'Europe/Lisbon',
    read: (words) => readAs(findTimeZone(words), words, 'Give a place like Europe/Lisbon, or its city.'),
    show: (zone) => zone,
    filledIn: (zone) => [zone],
  }),
  /** Weekdays on which the house roasts, 0 for Sunday. */
  roastDays: fact(z.array(whole(0, 6)).min(1).default([2, 4]), {
    called: ['roast days', 'roasting days', 'roast day'],
    group: 'first',
    isAskedFirst: true,
    source: (usual) => `only you can know; ${weekdays(usual)} until you say`,
    example: (usual) => usual.map((day) => WEEKDAY_NAMES[day]?.slice(0, 3).toLowerCase()).join(' '),
    read: (words, _now, like) => {
      const said = words
        .toLowerCase()
        .split(/[\s,/&+]+|\band\b/u)
        .filter((word) => word !== '');
      const days = said.map((word) => WEEKDAYS.get(word));
      const known = [...new Set(days.filter((day) => day !== undefined))];
      if (known.length === 0 || days.includes(undefined))
        return unclear(words, `Name weekdays, like ${like}.`);
      // The week of a roastery begins on Monday.
      return { ok: true, value: known.sort((a, b) => ((a + 6) % 7) - ((b + 6) % 7)) };
    },
    show: (days) => weekdays(days),
    input: { kind: 'weekdays' },
    filledIn: (days) => days.map(String),
  }),
  /** Slack user id of the person who answers roast asks. */
  roasterPerson: fact(z.string().nullable().default(null), {
    called: ['roaster', 'roaster person', 'who roasts'],
    group: 'first',
    isAskedFirst: true,
    source: ONLY_YOU,
    example: () => '@bram',
    read: (words, _now, like) => {
      const [person, another] = peopleIn(words);
      return readAs(another === undefined ? person : null, words, `Name one person, like ${like}.`);
    },
    show: (person) => (person === null ? 'nobody yet' : `<@${person}>`),
    input: { kind: 'person', question: 'Who roasts and answers roast asks' },
    filledIn: (person) => (person === null ? [] : [person]),
  }),
  /** Slack user ids of those who may do what a host may. */
  stewards: fact(z.array(z.string()).default([]), {
    called: ['stewards', 'steward'],
    group: 'first',
    isAskedFirst: true,
    source: ONLY_YOU,
    example: () => '@ines @bram',
    read: (words, _now, like) => {
      const people = peopleIn(words);
      return people.length > 0 || /^(?:none|nobody|no)$/iu.test(words.trim())
        ? { ok: true, value: [...people] }
        : unclear(words, `Name people, like ${like}.`);
    },
    show: (people) => (people.length === 0 ? 'nobody' : people.map((person) => `<@${person}>`).join(' ')),
    input: { kind: 'people', question: 'Stewards: may close, decide, cancel and change the house' },
    filledIn: (people) => people,
  }),
  drums: fact(Drums.default(USUAL_DRUMS), {
    called: ['drums', 'drum', 'roasters', 'machines', 'drum capacity'],
    group: 'first',
    isAskedFirst: true,
    source: drumSource,
    example: exampleDrums,
    read: (words, _now, like) => readDrums(words, like),
    show: (drums, { unitSystem }) => showDrums(drums, unitSystem),
    input: (usual) => ({
      kind: 'lines',
      question: 'Drums, one per line',
      hint: `Like: ${usual.slice(0, 1).map(drumWords).join()}. A sample roaster has “sample” in its name.`,
    }),
    filledIn: (drums) => [drums.map(drumWords).join('\n')],
  }),
  /** Slack channel id in which tastings are booked when none is said. */
  channel: fact(z.string().nullable().default(null), {
    called: ['channel', 'home channel'],
    group: 'first',
    source: () => 'the channel you book in',
    example: () => '#tasting-table',
    read: (words, _now, like) => {
      const id = /<#([CG][A-Z0-9]+)(?:\|[^>]*)?>|\b([CG][A-Z0-9]{4,})\b/u.exec(words);
      return readAs(id?.[1] ?? id?.[2], words, `Name a channel, like ${like}.`);
    },
    show: (channel) => (channel === null ? 'the channel you book in' : `<#${channel}>`),
    input: { kind: 'channel', hint: 'Where tastings are booked when no channel is said.' },
    filledIn: (channel) => (channel === null ? [] : [channel]),
  }),
  /** Calendar days of notice under which a standalone roast is a favour. */
  noticeDays: fact(whole(0, 60).default(7), {
    ...numberIn(' days'),
    called: ['notice days', 'notice'],
    group: 'asks',
    source: (usual) => `${usual === 7 ? 'a week' : `${usual} days`} for a standalone roast: ${PRACTICE}`,
  }),
  /** Until this hour of the day before, an ask can join a roast day. */
  cutOffHour: fact(whole(0, 23).default(16), {
    ...numberIn(':00 the day before'),
    called: ['cut-off', 'cut off', 'cut-off hour'],
    group: 'asks',
    source: () => `an afternoon to plan the next day: ${PRACTICE}`,
  }),
  closedDays: fact(z.array(ClosedDay).max(400).default([]), {
    called: ['closed days', 'closed', 'holidays', 'holiday'],
    group: 'asks',
    source: ONLY_YOU,
    example: () => '2026-12-25 Christmas, 2027-01-01 New Year',
    read: (words, _now, like) => {
      if (/^(?:none|no)$/iu.test(words.trim())) return { ok: true, value: [] };
      const entries = words.split(/[,;]/u).map((entry) => entry.trim());
      const days = entries.map((entry) => ({
        day: entry.slice(0, 10),
        name: entry.slice(10).trim() || 'closed',
      }));
      return days.every((entry) => isLocalDay(entry.day))
        ? { ok: true, value: days.sort((a, b) => (a.day < b.day ? -1 : 1)) }
        : unclear(words, `List days like ${like}, or say none.`);
    },
    show: (days) =>
      days.length === 0 ? 'none' : days.map(({ day, name }) => `${formatShortDay(day)} (${name})`).join(', '),
    input: { kind: 'lines' },
  }),
  /** What the scale at the drum shows; charges and batches are weighed to it. */
  batchStepMg: fact(PositiveMg.default(10_000), {
    ...WEIGHT,
    called: ['batch step', 'drum scale', 'production scale'],
    group: 'asks',
    source: (usual) => `${formatGrams(usual)} on a floor scale: ${PRACTICE}`,
  }),
};
