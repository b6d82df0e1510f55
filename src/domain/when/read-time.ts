/** A clock time read from the front of some words: minutes since midnight, and how many words it took. */
export type ReadTime = {
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
export function readTime(words: readonly string[], at: number): ReadTime | null {
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
