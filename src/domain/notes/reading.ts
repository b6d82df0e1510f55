import type { NotedMention } from '../record/note.js';

/** Whether a note says the cup has the attribute, has not, or only how it stands beside another cup. */
export type Polarity = NotedMention['polarity'];

/** How much of it the words claim: "a hint of" is slight, "tons of" is strong, no word at all is plain. */
export type Degree = NotedMention['degree'];

/**
 * One attribute that a note claims for one cup.
 * `cup` is the cup's label (null in a note on one cup or when no cup was named); `intensity` is null where the words
 * give no degree; `span` holds the offsets [start, end) of the words in the text as given.
 */
export type Mention = Omit<NotedMention, 'cupId'> & { readonly cup: string | null };

/** Words that seem to describe a taste but are none of the vocabulary's, with their offsets in the text. */
export type Unplaced = { readonly words: string; readonly span: readonly [number, number] };

/** Groups of cup labels, best first, cups within a group tied. */
export type Order = readonly (readonly string[])[];

/**
 * What a note says. `order` of "best: D" is [["D"]]: over every other cup the taster has noted. `worst` lists cups put below all others.
 * `liking` maps cup label to 1–9. `needsCup` is true when a tasting note in a table's thread names no cup.
 */
export type Reading = {
  readonly text: string;
  readonly mentions: readonly Mention[];
  readonly order: Order | null;
  readonly worst: readonly string[];
  readonly liking: Readonly<Record<string, number>>;
  readonly needsCup: boolean;
  readonly unplaced: readonly Unplaced[];
};

/** A taster's correction of one mention, found by the words it came from; no attribute drops it as well. */
type Correction =
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

/**
 * The sentence that shows a taster what was understood, cup by cup: "I read: C — lemon (slight), black tea;
 * not sour". Null when nothing was.
 */
export function understoodSentence(reading: Reading): string | null {
  const byCup = new Map<string | null, Mention[]>();
  for (const mention of reading.mentions)
    byCup.set(mention.cup, [...(byCup.get(mention.cup) ?? []), mention]);
  const parts = [...byCup].map(
    ([cup, mentions]) => (cup === null ? '' : `${cup} — `) + sayMentions(mentions),
  );
  if (reading.order !== null && reading.order.length > 0) parts.push(sayOrder(reading.order));
  for (const cup of reading.worst) parts.push(`worst ${cup}`);
  for (const [cup, liking] of Object.entries(reading.liking)) parts.push(`${cup} liked ${liking} of 9`);
  return parts.length === 0 ? null : `I read: ${parts.join(' · ')}`;
}

/** Whether everything in the note that speaks of taste was understood, and there was something. */
export function isWhollyUnderstood(reading: Reading): boolean {
  const something =
    reading.mentions.length > 0 ||
    reading.order !== null ||
    reading.worst.length > 0 ||
    Object.keys(reading.liking).length > 0;
  return something && reading.unplaced.length === 0 && !reading.needsCup;
}

function sayMentions(mentions: readonly Mention[]): string {
  const present = mentions.filter(({ polarity }) => polarity !== 'denied').map(sayMention);
  const denied = mentions
    .filter(({ polarity }) => polarity === 'denied')
    .map(({ attribute }) => `not ${attribute}`);
  return [present, denied]
    .filter((list) => list.length > 0)
    .map((list) => list.join(', '))
    .join('; ');
}

function sayMention({ attribute, polarity, degree, doubt }: Mention): string {
  const remarks: string[] = [];
  if (polarity === 'compared') remarks.push('beside another cup');
  else if (degree !== 'plain') remarks.push(degree);
  if (doubt) remarks.push('unsure');
  return remarks.length === 0 ? attribute : `${attribute} (${remarks.join(', ')})`;
}

function sayOrder(order: readonly (readonly string[])[]): string {
  if (order.length === 1) return `best ${order[0]?.join(' and ') ?? ''}`;
  return `order ${order.map((group) => group.join(' = ')).join(' > ')}`;
}
