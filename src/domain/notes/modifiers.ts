import type { Cue } from './cue-words.js';
import { isLingering, isScarce, shortened } from './lingering.js';
import { isLoneWord, standsAlone } from './lone-words.js';
import type { Piece } from './piece.js';
import { lendsTail, shareTail } from './shared-tail.js';
import type { VocabularyEntry } from './vocabulary-file.js';

const SLIGHT = new Set(
  'dainty mild subtle faint light lite gentle muted delicate soft quiet weak mellow understated'.split(' '),
);
const STRONG = new Set(
  'strong intense bold heavy big powerful punchy overpowering overwhelming full stronger robust potent rich'.split(
    ' ',
  ),
);
/** How a food was made ready, or its shade, says nothing more of the cup when the food itself is named. */
const PREPARED = new Set(['toasted', 'baked', 'roasted', 'roast', 'dark', 'darker', 'medium', 'burnt out']);
/** "Roasted almond" and "roasted malt" are foods that come roasted; "roasted plum" is roasted as well. */
const ROASTED = new Set(['roasted', 'roast']);
const COME_ROASTED = new Set(['nutty', 'cereal']);
const JUICES = new Set(['juice', 'jam', 'jams', 'compote', 'preserves', 'jelly']);
const TWO_JOBS = new Set([...SLIGHT, ...STRONG, ...PREPARED, ...JUICES, 'buttery', 'cleaner', 'even', 'old']);
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
  if (!pieces.some(hasTwoJobs)) return pieces;
  const settled = [...pieces];
  for (let i = settled.length - 1; i >= 0; i -= 1) {
    const piece = settled[i];
    if (piece === undefined || piece.entry === null) continue;
    if (lendsTail(piece)) shareTail(settled, i, attributes);
    else if (isLingering(piece) && isScarce(settled, i)) settled[i] = shortened(piece, attributes);
    const flavour = flavourAfter(settled, i);
    if (flavour !== null && SLIGHT.has(piece.text)) settled[i] = turn(piece, 'slight');
    else if (flavour !== null && STRONG.has(piece.text)) settled[i] = turn(piece, 'strong');
    else if (isLoneWord(piece.text) && !standsAlone(settled, i))
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

function hasTwoJobs(piece: Piece): boolean {
  if (piece.entry === null) return false;
  return TWO_JOBS.has(piece.text) || piece.entry.subfamily === 'berry' || isLingering(piece);
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
