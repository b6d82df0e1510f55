import type { CupPhrases } from './cup-phrases.js';
import { longestExact } from './phrase-tree.js';
import type { Token } from './token.js';

/** A cup named in the text: the labels, and how many tokens name it. */
export type CupReference = { readonly labels: readonly string[]; readonly length: number };

/** What finds no cup: there is none on the table. */
export function noCupAt(): null {
  return null;
}

/** Letters that are words or shorthand of their own, so that they name a cup only where nothing else fits. */
const DOUBTFUL = new Set('a i n o r s t u w x y k'.split(' '));
const HEAD_MARKS = new Set([
  ':',
  '-',
  ')',
  ']',
  '=',
  '>',
  '<',
  '*',
  '|',
  '.',
  '\u2192',
  '\u2014',
  '_',
  '/',
  '&',
]);
const SAYING = new Set(
  'is was has had tastes tasted seems seemed smells feels felt gets got wins beats then best'.split(' '),
);
const CUP_NOUNS = new Set(['one', 'cup', 'coffee']);
const TYING = new Set('and or & + / , > < = vs then'.split(' '));
const POINTING = new Set(
  'in for on from than like vs versus over beats best favourite favorite prefer to as of'.split(' '),
);
const OPENING = new Set(['in', 'for', 'on']);
const SPEAKERS = new Set('i we there theres its it they'.split(' '));
const ARTICLE_PHRASES = new Set(
  'bit little hint touch lot tad nice very really slight ton trace whisper clear good'.split(' '),
);

/** Finds the cups named in tokens: gives the reference that begins at a token, or null. */
export function findCupReferences(
  tokens: readonly Token[],
  phrases: CupPhrases,
): (index: number) => CupReference | null {
  const heads = findPlainHeads(tokens, phrases);
  return (index) => {
    const token = tokens[index];
    if (token === undefined) return null;
    if (token.joined || tokens[index + 1]?.joined === true) {
      if (tokens[index + 1]?.text !== 's') return null;
    }
    const found = longestExact(phrases.named, index, (i) => tokens[i]?.text ?? null);
    if (found !== null) return { labels: found.value, length: found.length };
    const process = phrases.processes.get(token.text);
    if (process !== undefined && isSubject(tokens, index))
      return { labels: [process], length: CUP_NOUNS.has(tokens[index + 1]?.text ?? '') ? 2 : 1 };
    const label = phrases.bare.get(token.text);
    if (label === undefined || token.kind !== 'word') return null;
    if (DOUBTFUL.has(token.text) && !isSurelyCup(tokens, index, phrases, heads)) return null;
    return { labels: [label], length: 1 };
  };
}

function isSurelyCup(
  tokens: readonly Token[],
  i: number,
  phrases: CupPhrases,
  { headed, scored }: PlainHeads,
): boolean {
  const before = tokens[i - 1];
  const after = tokens[i + 1];
  const starts = isStart(before);
  const ends = after === undefined || after.kind === 'break' || (after.kind === 'mark' && after.text !== '"');
  if (starts && (after === undefined || after.kind === 'break' || HEAD_MARKS.has(after.text))) return true;
  if (starts && SAYING.has(after?.text ?? '')) return true;
  if (
    scored &&
    after?.kind === 'number' &&
    (starts || before?.text === ',' || before?.text === '/' || before?.kind === 'number')
  )
    return true;
  if (after?.text === 's' && after.joined) return true;
  if (
    before !== undefined &&
    POINTING.has(before.text) &&
    (ends || SAYING.has(after?.text ?? '') || TYING.has(after?.text ?? '') || SPEAKERS.has(after?.text ?? ''))
  )
    return true;
  if (ends && (before?.text === ':' || before?.text === '=')) return true;
  if (isTied(tokens, i, -1, phrases) || isTied(tokens, i, 1, phrases)) return true;
  if (after?.text === ',' && phrases.bare.has(tokens[i + 2]?.text ?? '') && (starts || before?.text === ':'))
    return true;
  if (before?.text === ',' && (SAYING.has(after?.text ?? '') || after?.text === ':')) return true;
  if (
    headed &&
    OPENING.has(before?.text ?? '') &&
    isStart(tokens[i - 2]) &&
    !ARTICLE_PHRASES.has(after?.text ?? '')
  )
    return true;
  return headed && isStart(before) && after?.kind === 'word' && !ARTICLE_PHRASES.has(after.text);
}

/** "The natural tastes …", "natural: …": never "the natural sweetness". */
function isSubject(tokens: readonly Token[], i: number): boolean {
  const before = tokens[i - 1];
  const after = tokens[i + 1];
  if (before?.text !== 'the' && !isStart(before)) return false;
  if (after === undefined || after.kind === 'break') return before?.text === 'the';
  if (CUP_NOUNS.has(after.text)) return before?.text === 'the';
  return SAYING.has(after.text) || (after.kind === 'mark' && (before?.text === 'the' || after.text === ':'));
}

/** The other side of "A and B", "A > B", "A/B" is a label as well. */
function isTied(tokens: readonly Token[], i: number, step: 1 | -1, phrases: CupPhrases): boolean {
  const tie = tokens[i + step];
  const other = tokens[i + 2 * step];
  if (tie === undefined || other === undefined || !TYING.has(tie.text)) return false;
  return (
    phrases.bare.has(other.text) && (!DOUBTFUL.has(other.text) || tie.kind === 'mark') && tie.text !== ','
  );
}

function isStart(before: Token | undefined): boolean {
  if (before === undefined || before.kind === 'break') return true;
  return before.kind === 'mark' && '.;!?([*_#|\u2022\u2014-'.includes(before.text);
}

type PlainHeads = { readonly headed: boolean; readonly scored: boolean };

/** Whether some label that is no word of its own is followed by words ("A lemon B chocolate") or a score. */
function findPlainHeads(tokens: readonly Token[], { bare }: CupPhrases): PlainHeads {
  let headed = false;
  let scored = false;
  for (const [i, { text }] of tokens.entries()) {
    if (!bare.has(text) || DOUBTFUL.has(text)) continue;
    if (tokens[i + 1]?.kind === 'word') headed = true;
    if (tokens[i + 1]?.kind === 'number') scored = true;
  }
  return { headed, scored };
}
