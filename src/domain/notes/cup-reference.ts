import { COUNTED_NOUNS, type CupPhrases, cupPhrases, LABELLED_NOUNS } from './cup-phrases.js';
import type { NoteContext } from './note-context.js';
import { longestExact, wordSet } from './phrases.js';
import type { CupReference } from './piece.js';
import type { Token } from './tokenise.js';

/** Letters that are words or shorthand of their own, so that they name a cup only where nothing else fits. */
const DOUBTFUL = wordSet('a i n o r s t u w x y k');
const HEAD_MARKS = wordSet(': - ) ] = > < * | . \u2192 \u2014 _ / &');
const SAYING = wordSet(
  'is was has had tastes tasted seems seemed smells feels felt gets got wins beats then best',
);
const CUP_NOUNS = new Set(['one', 'cup', 'coffee']);
const TYING = wordSet('and or & + / , > < = vs then');
const POINTING = wordSet(
  'in for on from than like vs versus over beats best favourite favorite prefer to as of',
);
const OPENING = new Set(['in', 'for', 'on']);
const SPEAKERS = wordSet('i we there theres its it they');
const ARTICLE_PHRASES = wordSet(
  'bit little hint touch lot tad nice very really slight ton trace whisper clear good',
);

/** Finds the cups named in tokens: gives the reference that begins at a token, or null. */
export function findCupReferences(
  tokens: readonly Token[],
  context: NoteContext,
): (index: number) => CupReference | null {
  if (context.cups.length === 0) return () => null;
  const phrases = cupPhrases(context);
  const heads = findPlainHeads(tokens, phrases);
  return (index) => {
    const token = tokens[index];
    if (token === undefined) return null;
    const after = tokens[index + 1];
    if ((token.joined || after?.joined === true) && after?.text !== 's') return null;
    const named = findNamed(tokens, index, phrases);
    if (named !== null) return named;
    const process = phrases.processes.get(token.text);
    if (process !== undefined && isSubject(tokens, index))
      return { labels: [process], length: CUP_NOUNS.has(after?.text ?? '') ? 2 : 1 };
    const label = phrases.bare.get(token.text);
    if (label === undefined || token.kind !== 'word') return null;
    if (DOUBTFUL.has(token.text) && !isSurelyCup(tokens, index, phrases, heads)) return null;
    return { labels: [label], length: 1 };
  };
}

/** The longest phrase that names cups, with its noun. */
function findNamed(
  tokens: readonly Token[],
  index: number,
  { named, behindNoun, beforeNoun }: CupPhrases,
): CupReference | null {
  const wordAt = (i: number) => tokens[i]?.text ?? null;
  const whole = longestExact(named, index, wordAt);
  const behind = LABELLED_NOUNS.has(wordAt(index) ?? '') ? longestExact(behindNoun, index + 1, wordAt) : null;
  const place = longestExact(beforeNoun, index, wordAt);
  const before = COUNTED_NOUNS.has(wordAt(index + (place?.length ?? 0)) ?? '') ? place : null;
  const counted = behind ?? before;
  if (counted !== null && counted.length >= (whole?.length ?? 0))
    return { labels: counted.value, length: counted.length + 1 };
  return whole === null ? null : { labels: whole.value, length: whole.length };
}

/** Whether what stands around a doubtful letter shows that it names a cup. */
function isSurelyCup(
  tokens: readonly Token[],
  i: number,
  phrases: CupPhrases,
  { headed, scored }: PlainHeads,
): boolean {
  const before = tokens[i - 1];
  const after = tokens[i + 1];
  const [left, right] = [before?.text ?? '', after?.text ?? ''];
  const starts = isStart(before);
  const ends = after === undefined || after.kind === 'break' || (after.kind === 'mark' && right !== '"');
  const said = SAYING.has(right);
  const listed = starts || left === ',' || left === '/' || before?.kind === 'number';
  return (
    (starts && (after === undefined || after.kind === 'break' || HEAD_MARKS.has(right) || said)) ||
    (scored && after?.kind === 'number' && listed) ||
    (right === 's' && after?.joined === true) ||
    (POINTING.has(left) && (ends || said || TYING.has(right) || SPEAKERS.has(right))) ||
    (ends && (left === ':' || left === '=')) ||
    isTied(tokens, i, -1, phrases) ||
    isTied(tokens, i, 1, phrases) ||
    (right === ',' && phrases.bare.has(tokens[i + 2]?.text ?? '') && (starts || left === ':')) ||
    (left === ',' && (said || right === ':')) ||
    (headed && OPENING.has(left) && isStart(tokens[i - 2]) && !ARTICLE_PHRASES.has(right)) ||
    (headed && starts && after?.kind === 'word' && !ARTICLE_PHRASES.has(right))
  );
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
function isTied(tokens: readonly Token[], i: number, step: 1 | -1, { bare }: CupPhrases): boolean {
  const tie = tokens[i + step];
  const other = tokens[i + 2 * step]?.text ?? '';
  if (tie === undefined || tie.text === ',' || !TYING.has(tie.text)) return false;
  return bare.has(other) && (!DOUBTFUL.has(other) || tie.kind === 'mark');
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
