import type { Mention, Reading } from '../domain/notes/reading.js';

/**
 * A reading as one line of JSON. A mention without intensity has no `intensity`; `worst` is given only when
 * the note puts cups below all others; `unplaced` holds the words.
 */
export function readingLine(reading: Reading): string {
  const { text, mentions, order, worst, liking, needsCup, unplaced } = reading;
  return JSON.stringify({
    text,
    mentions: mentions.map(mentionOut),
    order,
    liking,
    needsCup,
    unplaced: unplaced.map(({ words }) => words),
    ...(worst.length > 0 ? { worst } : {}),
  });
}

function mentionOut({ cup, attribute, polarity, degree, intensity, doubt, span }: Mention): object {
  return { cup, attribute, polarity, degree, ...(intensity === null ? {} : { intensity }), doubt, span };
}
