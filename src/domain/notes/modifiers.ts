import type { Cue } from './cues.js';
import { phraseList, wordSet } from './phrases.js';
import { endsItem, isConnector, type Piece } from './piece.js';
import type { VocabularyEntry } from './vocabulary-file.js';

const SLIGHT = wordSet(
  'dainty mild subtle faint light lite gentle muted delicate soft quiet weak mellow understated',
);
const STRONG = wordSet(
  'strong intense bold heavy big powerful punchy overpowering overwhelming full stronger robust potent rich',
);
/** How a food was made ready, or its shade, says nothing more of the cup when the food itself is named. */
const PREPARED = new Set(['toasted', 'baked', 'roasted', 'roast', 'dark', 'darker', 'medium', 'burnt out']);
/** "Roasted almond" and "roasted malt" are foods that come roasted; "roasted plum" is roasted as well. */
const ROASTED = new Set(['roasted', 'roast']);
const COME_ROASTED = new Set(['nutty', 'cereal']);
const JUICES = new Set(['juice', 'jam', 'jams', 'compote', 'preserves', 'jelly']);
const FLAVOURS = new Set(['aroma-flavour', 'taste', 'sweetness', 'defect', 'acidity']);
const REACH = 3;

/**
 * Settles words with two jobs. Before a flavour ("light fig", "bold cocoa") or after it and a verb
 * ("acidity was strong") a word of strength gives a degree and claims nothing itself; "toasted malt" is
 * malt; "roasted plum" is both; "cherry juice" is cherry; "buttery walnut" has the flavour of butter.
 */
export function settleModifiers(
  pieces: readonly Piece[],
  attributes: ReadonlyMap<string, VocabularyEntry>,
): readonly Piece[] {
  const settled = [...pieces];
  for (let i = settled.length - 1; i >= 0; i -= 1) {
    const piece = settled[i];
    if (piece === undefined || piece.entry === null) continue;
    shareTail(settled, i, attributes);
    if (isScarceLingering(settled, i)) settled[i] = { ...piece, entry: attributes.get(SHORT) ?? piece.entry };
    const flavour = flavourAfter(settled, i);
    if (flavour !== null && SLIGHT.has(piece.text)) settled[i] = turn(piece, 'slight');
    else if (flavour !== null && STRONG.has(piece.text)) settled[i] = turn(piece, 'strong');
    else if (LONE_WORDS.has(piece.text) && !standsAlone(settled, i))
      settled[i] = { ...piece, kind: 'word', entry: null, twist: null };
    else if (flavour !== null && settled[i + 1] === flavour)
      settled[i] = besideFlavour(piece, flavour, attributes);
    else if (JUICES.has(piece.text) && isFruit(settled[i - 1])) settled[i] = turn(piece, 'transparent');
    else if (piece.text === 'cleaner' && settled[i - 1]?.entry?.kind === 'aroma-flavour')
      settled[i] = turn(piece, 'transparent');
    else if (SLIGHT.has(piece.text) && isSaidOf(settled, i)) settled[i] = turn(piece, 'afterSlight');
    else if (STRONG.has(piece.text) && isSaidOf(settled, i)) settled[i] = turn(piece, 'afterStrong');
  }
  return settled;
}

/** "Plum", "candied fruit". */
function isFruit(piece: Piece | undefined): boolean {
  return piece?.entry != null && (piece.entry.family === 'fruity' || piece.text.endsWith('fruit'));
}

function besideFlavour(
  piece: Piece,
  flavour: Piece,
  attributes: ReadonlyMap<string, VocabularyEntry>,
): Piece {
  if (piece.text === 'buttery') return { ...piece, entry: attributes.get('cream') ?? piece.entry };
  const other = piece.entry?.name !== flavour.entry?.name;
  if (!other || !PREPARED.has(piece.text)) return piece;
  const ownTaste = ROASTED.has(piece.text) && !COME_ROASTED.has(flavour.entry?.subfamily ?? '');
  return ownTaste ? piece : turn(piece, 'transparent');
}

/** The flavour that the word at `i` stands before: at once, or over words like "flavour of". */
function flavourAfter(pieces: readonly Piece[], i: number): Piece | null {
  for (let j = i + 1; j <= Math.min(pieces.length - 1, i + REACH); j += 1) {
    const piece = pieces[j];
    if (piece === undefined) return null;
    if (piece.entry !== null) return FLAVOURS.has(piece.entry.kind) ? piece : null;
    if (piece.cue !== 'transparent') return null;
  }
  return null;
}

function turn(piece: Piece, cue: Cue): Piece {
  return { ...piece, kind: 'cue', entry: null, cue };
}

/** Whether the word at `i` is said of a flavour before it: attribute, a linking verb, adverbs, the word. */
function isSaidOf(pieces: readonly Piece[], i: number): boolean {
  let linked = false;
  for (let j = i - 1; j >= Math.max(0, i - 4); j -= 1) {
    const piece = pieces[j];
    if (piece === undefined) return false;
    if (piece.entry !== null) return linked && FLAVOURS.has(piece.entry.kind);
    if (piece.text === 'is' || piece.text === 'was' || piece.text === 'seemed' || piece.text === 'are')
      linked = true;
    else if (piece.cue !== 'strong' && piece.cue !== 'slight' && piece.cue !== 'transparent') return false;
  }
  return false;
}

/** Words that describe the cup only when they stand by themselves: "even, round", "tastes old", "rich". */
const LONE_WORDS = new Set(['even', 'old', 'rich']);
/** What such a word may stand before and still be said of the cup. */
const CUP_NOUNS = wordSet(
  'cup coffee taste tasting flavour flavours flavor flavors profile brew sip spread balance all',
);
const AGES = wordSet(
  'im am same good any year years day days week weeks month months my your our his her their the',
);
const PLACES = new Set(['at', 'on', 'for', 'to', 'when', 'as', 'with', 'medium', 'but', 'throughout']);

/**
 * Whether such a word at `i` describes the cup: an even cup is balanced, but "even sweeter" is only sweeter; an
 * old taste is stale, but an old friend is not; "rich" alone is a full body, and "rich in plum" or "rich
 * customer" is none. A rich flavour ("rich caramel") is a matter of degree and settled before.
 */
function standsAlone(pieces: readonly Piece[], i: number): boolean {
  const { text } = pieces[i] ?? {};
  const next = pieces[i + 1];
  const before = pieces[i - 1];
  if (text === 'old' && (before?.kind === 'number' || AGES.has(before?.text ?? ''))) return false;
  if (next === undefined || endsItem(next) || isConnector(next)) return !isCalled(pieces, i);
  if (text === 'rich')
    return PLACES.has(next.text) || next.cue === 'time' || next.text === 'cup' || next.text === 'coffee';
  return next.text === 'but' || next.text === 'throughout' || CUP_NOUNS.has(next.text);
}

/** "Rich and I": a name. */
function isCalled(pieces: readonly Piece[], i: number): boolean {
  return pieces[i]?.text === 'rich' && pieces[i + 1]?.cue === 'and' && pieces[i + 2]?.text === 'i';
}

const LINGERING = 'linger';
const LONG = 'long aftertaste';
const SHORT = 'short aftertaste';
const SCARCE = new Set(
  phraseList('little, very little, hardly, barely, hardly any, barely any, not much, minimal'),
);

/** What hardly lingers is short: "hardly any lingering taste", "not much of a lingering finish". */
function isScarceLingering(pieces: readonly Piece[], i: number): boolean {
  const piece = pieces[i];
  if (piece?.entry?.name !== LONG || !piece.text.startsWith(LINGERING)) return false;
  let before = i - 1;
  while (pieces[before]?.cue === 'transparent') before -= 1;
  return SCARCE.has(pieces[before]?.text ?? '');
}

/** Whether a piece is lingering that was found scarce: how little there is makes it short, not slight. */
export function isShortened({ text, entry }: Piece): boolean {
  return entry?.name === SHORT && text.startsWith(LINGERING);
}

/** Beginnings of berries, as they stand when several share one "-berry". */
const BERRIES: ReadonlyMap<string, string> = new Map([
  ['rasp', 'raspberry'],
  ['straw', 'strawberry'],
  ['black', 'blackberry'],
  ['blue', 'blueberry'],
  ['boysen', 'berry'],
  ['goose', 'berry'],
  ['elder', 'berry'],
  ['cran', 'red fruit'],
]);
const CURRANTS: ReadonlyMap<string, string> = new Map([
  ['black', 'blackcurrant'],
  ['red', 'red fruit'],
]);

/**
 * "Rasp/blackberry", "black- or blueberry", "red and blackcurrant": the words before the berry at `i` are
 * berries too. Puts them right in `pieces`.
 */
function shareTail(pieces: Piece[], i: number, attributes: ReadonlyMap<string, VocabularyEntry>): void {
  if (pieces[i]?.entry?.family !== 'fruity') return;
  const stems = stemsOf(pieces[i]?.text ?? '');
  let at = i;
  while (true) {
    const tie = pieces[at - 1];
    if (tie === undefined || !isConnector(tie)) return;
    const hyphen = pieces[at - 2]?.text === '-';
    at = hyphen ? at - 3 : at - 2;
    const piece = pieces[at];
    const entry = attributes.get(stems?.get(piece?.text ?? '') ?? '');
    if (piece === undefined || entry === undefined) return;
    // "Straw and blackberry" are two things; "straw- and blackberry" are berries.
    if (piece.kind !== 'word' && !hyphen && tie.kind !== 'mark') return;
    pieces[at] = { ...piece, kind: 'attribute', entry, cue: null, twist: null };
  }
}

function stemsOf(text: string): ReadonlyMap<string, string> | null {
  if (text.includes(' ')) return null;
  if (/berr(?:y|ies)$/.test(text)) return BERRIES;
  return /currants?$/.test(text) ? CURRANTS : null;
}
