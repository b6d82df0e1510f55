import type { Reading } from '../domain/notes/reading.js';
import type { Vocabulary } from '../domain/notes/vocabulary.js';
import type { LabelledNote } from './notes-labelled.js';

/** True and false positives and misses over (attribute, polarity), and the measures that follow from them. */
export type Count = { hit: number; extra: number; missed: number };
export type Measures = Count & { precision: number; recall: number; f1: number };

export type Score = {
  readonly notes: number;
  readonly overall: Measures;
  readonly families: Readonly<Record<string, Measures>>;
  readonly polarityAccuracy: number;
  readonly cupAccuracy: number | null;
  readonly worst: readonly { text: string; missed: readonly string[]; extra: readonly string[] }[];
};

const WORST_LINES = 20;

/** Scores readings against labels, note by note: readings[i] is the reading of notes[i]. */
export function scoreReadings(
  notes: readonly LabelledNote[],
  readings: readonly Reading[],
  vocabulary: Vocabulary,
): Score {
  const overall: Count = { hit: 0, extra: 0, missed: 0 };
  const families = new Map<string, Count>();
  const worst: { text: string; missed: string[]; extra: string[] }[] = [];
  const polarity = { right: 0, of: 0 };
  const cups = { right: 0, of: 0 };
  for (const [i, note] of notes.entries()) {
    const read = readings[i]?.mentions ?? [];
    const wanted = new Set(note.mentions.map(pairOf));
    const got = new Set(read.map(pairOf));
    const missed = [...wanted].filter((pair) => !got.has(pair));
    const extra = [...got].filter((pair) => !wanted.has(pair));
    for (const pair of wanted) count(pair, got.has(pair) ? 'hit' : 'missed');
    for (const pair of extra) count(pair, 'extra');
    if (missed.length + extra.length > 0) worst.push({ text: note.text, missed, extra });
    addPolarity(note, read, polarity);
    addCups(note, read, cups);
  }
  function count(pair: string, what: keyof Count): void {
    const family = vocabulary.attributes.get(pair.split('/ ')[0] ?? '')?.family ?? 'unknown';
    const ofFamily = families.get(family) ?? { hit: 0, extra: 0, missed: 0 };
    families.set(family, ofFamily);
    ofFamily[what] += 1;
    overall[what] += 1;
  }
  worst.sort((a, b) => b.missed.length + b.extra.length - a.missed.length - a.extra.length);
  return {
    notes: notes.length,
    overall: measure(overall),
    families: Object.fromEntries([...families].sort().map(([name, ofFamily]) => [name, measure(ofFamily)])),
    polarityAccuracy: share(polarity),
    cupAccuracy: cups.of === 0 ? null : share(cups),
    worst: worst.slice(0, WORST_LINES),
  };
}

function pairOf(mention: { attribute: string; polarity: string }): string {
  return `${mention.attribute}/ ${mention.polarity}`;
}

function addPolarity(
  note: LabelledNote,
  read: Reading['mentions'],
  tally: { right: number; of: number },
): void {
  for (const { attribute } of uniqueBy(note.mentions, ({ attribute }) => attribute)) {
    const wanted = new Set(note.mentions.filter((m) => m.attribute === attribute).map((m) => m.polarity));
    const got = new Set(read.filter((m) => m.attribute === attribute).map((m) => m.polarity));
    if (got.size === 0) continue;
    tally.of += 1;
    if (wanted.size === got.size && [...wanted].every((polarity) => got.has(polarity))) tally.right += 1;
  }
}

/** Only labels that say a cup are asked; a mention counts when it was read at all, right when for that cup. */
function addCups(note: LabelledNote, read: Reading['mentions'], tally: { right: number; of: number }): void {
  for (const { cup, attribute } of note.mentions) {
    if (cup === undefined || cup === null) continue;
    const found = read.filter((mention) => mention.attribute === attribute);
    if (found.length === 0) continue;
    tally.of += 1;
    if (found.some((mention) => mention.cup === cup)) tally.right += 1;
  }
}

function uniqueBy<Item>(items: readonly Item[], key: (item: Item) => string): readonly Item[] {
  return [...new Map(items.map((item) => [key(item), item])).values()];
}

function measure({ hit, extra, missed }: Count): Measures {
  const precision = hit + extra === 0 ? 1 : hit / (hit + extra);
  const recall = hit + missed === 0 ? 1 : hit / (hit + missed);
  const f1 = precision + recall === 0 ? 0 : (2 * precision * recall) / (precision + recall);
  return { hit, extra, missed, precision: round(precision), recall: round(recall), f1: round(f1) };
}

function share({ right, of }: { right: number; of: number }): number {
  return of === 0 ? 1 : round(right / of);
}

function round(value: number): number {
  return Math.round(value * 10_000) / 10_000;
}
