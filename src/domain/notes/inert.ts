import { phraseList, wordSet } from './phrases.js';
import { endsItem, endsSentence, type Piece } from './piece.js';

const ADDITIVES = new Set(
  phraseList('milk, cream, sugar, sugars, butter, honey, salt, heavy cream, whole milk, ice cream'),
);
const ADDING = wordSet(
  'add added adding to the in had put with w without after needs need my your wanted wanting craving craved prefer use take drink',
);
const PASSED_OVER = wordSet('no some oat or any and of a / heavy little bit splash');
const STRENGTH = wordSet('strong intense weak mild subtle faint light heavy bold bolder robust powerful');
const ROAST_SHADES = wordSet('light lighter medium med natural tasting the this that a of blonde');
const PEOPLE = wordSet('drinker drinkers person people lover lovers fan fans guy girl');
/** "Second round" is a round of tasting. */
const COUNTED = wordSet('st nd rd th first second third fourth last next final each another one two');
/** What rises as a cup cools: "acidity rose" names no flower. */
const RISING = wordSet('acidity acid bitterness sweetness sourness intensity body temperature temp');
const BACK = 4;

/**
 * Marks attribute pieces that claim nothing of the cup: milk, cream and sugar that were or would be put into
 * it ("better with milk"), the roast itself ("the roast was too light"), the strength of a smell ("aroma is
 * not strong enough"), plain water that was poured.
 */
export function findInert(pieces: readonly Piece[]): readonly boolean[] {
  const inert = new Array<boolean>(pieces.length).fill(false);
  for (const [i, { text, entry }] of pieces.entries()) {
    if (entry === null) continue;
    if (isTasteInGeneral(pieces, i)) inert[i] = true;
    else if (ADDITIVES.has(text)) inert[i] = isAdded(pieces, i, inert);
    else if (text === 'roast' || text === 'roasts') inert[i] = isTheRoast(pieces, i);
    else if (text === 'round') inert[i] = COUNTED.has(pieces[i - 1]?.text ?? '');
    else if (text === 'rose') inert[i] = RISING.has(pieces[i - 1]?.text ?? '');
    else if (text === 'water') inert[i] = !isWateryTaste(pieces, i);
    else if (STRENGTH.has(text)) inert[i] = isStrengthOfOther(pieces, i);
  }
  return inert;
}

/** "I am more of a black tea drinker", "not a fan of sour coffees": what somebody likes, not what the cup is. */
function isTasteInGeneral(pieces: readonly Piece[], i: number): boolean {
  const next = pieces[i + 1]?.text ?? '';
  if (PEOPLE.has(next)) return true;
  if (next !== 'coffees') return false;
  const before = pieces[i - 1];
  return (
    before?.cue === 'affirm' ||
    before?.cue === 'liking' ||
    before?.text === 'prefer' ||
    before?.text === 'like'
  );
}

function isAdded(pieces: readonly Piece[], i: number, inert: readonly boolean[]): boolean {
  const after = pieces[i + 1]?.text;
  if (after === 'drink' || after === 'drinks' || after === 'made' || after === 'helped') return true;
  for (let j = i - 1; j >= Math.max(0, i - BACK); j -= 1) {
    const piece = pieces[j];
    if (piece === undefined || endsSentence(piece) || piece.text === ',') return false;
    if (inert[j] === true) return true;
    if (piece.entry !== null && !ADDITIVES.has(piece.text)) return false;
    if (ADDING.has(piece.text)) return !followsFlavour(pieces, j);
    if (!PASSED_OVER.has(piece.text) && piece.cue !== 'slight') return false;
  }
  return false;
}

/** "Chocolate with cream" is two flavours. */
function followsFlavour(pieces: readonly Piece[], i: number): boolean {
  return pieces[i]?.text === 'with' && pieces[i - 1]?.entry != null;
}

function isTheRoast(pieces: readonly Piece[], i: number): boolean {
  return ROAST_SHADES.has(pieces[i - 1]?.text ?? '') || pieces[i + 1]?.cue === 'link';
}

/** "Bitter acid water", or "water" as an item of its own. */
function isWateryTaste(pieces: readonly Piece[], i: number): boolean {
  const before = pieces[i - 1];
  const after = pieces[i + 1];
  if (before?.entry != null) return true;
  return (before === undefined || endsItem(before)) && (after === undefined || endsItem(after));
}

/** Strength said of a smell or a roast, or wished for: "the aroma is not strong enough". */
function isStrengthOfOther(pieces: readonly Piece[], i: number): boolean {
  if (pieces[i + 1]?.text === 'enough') return true;
  for (let j = i - 1; j >= Math.max(0, i - BACK); j -= 1) {
    const piece = pieces[j];
    if (piece === undefined || endsItem(piece) || piece.kind === 'attribute') return piece?.text === 'roast';
    if (piece.cue === 'smell') return true;
  }
  return false;
}
