import type { Mention, Reading } from './reading.js';

/** A taster's correction of one mention, found by the words it came from; no attribute drops it as well. */
export type Correction =
  | { readonly span: readonly [number, number]; readonly drop: true }
  | { readonly span: readonly [number, number]; readonly attribute: string | null };

/**
 * Applies a taster's corrections to a reading. A correction names its mention by the span of the words, so
 * it holds when the same text is read again, with a larger vocabulary or without; one that finds no mention
 * at its span changes nothing, unless it says what unplaced words mean: then it makes them a mention.
 */
export function correctReading(reading: Reading, corrections: readonly Correction[]): Reading {
  const bySpan = new Map(corrections.map((correction) => [correction.span.join(), correction]));
  const seen = new Set<string>();
  const mentions: Mention[] = [];
  for (const mention of [...reading.mentions, ...placedWords(reading, bySpan)]) {
    const correction = bySpan.get(mention.span.join());
    const attribute = correction === undefined ? mention.attribute : meant(correction);
    if (attribute === null) continue;
    const key = `${mention.cup ?? ''}\n${attribute}\n${mention.polarity}`;
    if (seen.has(key)) continue;
    seen.add(key);
    mentions.push({ ...mention, attribute });
  }
  const unplaced = reading.unplaced.filter(({ span }) => !bySpan.has(span.join()));
  return { ...reading, mentions, unplaced };
}

function meant(correction: Correction): string | null {
  return 'drop' in correction ? null : correction.attribute;
}

function placedWords(reading: Reading, bySpan: ReadonlyMap<string, Correction>): readonly Mention[] {
  const placed: Mention[] = [];
  for (const { span } of reading.unplaced) {
    const correction = bySpan.get(span.join());
    const attribute = correction === undefined ? null : meant(correction);
    if (attribute === null) continue;
    placed.push({
      cup: nearestCup(reading.mentions, span[0]),
      attribute,
      polarity: 'present',
      degree: 'plain',
      intensity: null,
      doubt: false,
      span,
    });
  }
  return placed;
}

/** The cup of the mention before the words, or of the first one: unplaced words stand among their cup's. */
function nearestCup(mentions: readonly Mention[], offset: number): string | null {
  let cup = mentions[0]?.cup ?? null;
  for (const mention of mentions) if (mention.span[0] < offset) cup = mention.cup;
  return cup;
}
