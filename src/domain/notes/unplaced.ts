import { phraseList, wordSet } from './phrases.js';
import { cutPieces, endsItem, isConnector, type Piece, splitWhere } from './piece.js';
import type { Unplaced } from './reading.js';
import { tokenise } from './tokenise.js';
import type { Vocabulary } from './vocabulary.js';

/** Words that describe a taste but fit no attribute of the vocabulary: always shown as unplaced. */
const UNFITTING = wordSet(
  'bland neutral warm rich natural brown fresh refreshing cozy cosy flavourless flavorless tasteless flavorful',
  'flavourful comforting exotic cooling richness freshness warmth',
  'richer warming bittersweet off',
);

/** Words of liking, drinking, brewing, comparing and talk: never offered as an unknown taste. */
const IGNORED = wordSet(
  'coffee coffees cup cups one ones this that these those it i me my we you he she they them mine ours',
  'drink drinks drinking drinkable drinker daily everyday diner breakfast day time times way lot bit',
  'favorite favourite fave fav favorites pick choice preference preferred prefer interesting unique different',
  'similar same other others another classic standard typical traditional normal regular usual generic basic',
  'familiar average decent solid fun easy weird strange odd nothing something anything everything none unsure',
  'unknown specific particular hard first second third last next middle best better worse worst good great nice',
  'pleasant lovely enjoyable beautiful bad okay ok fine meh wow yes no yeah yep nope thanks hello hi hey lol',
  'haha notes tasting taste flavor flavour flavors flavours profile blend roast roasts origin single process',
  'processed washed anaerobic ethiopian ethiopia kenya kenyan colombia colombian brazil peru',
  'indonesian sumatra guatemala costa rican rica african overall general generally personally definitely maybe',
  'again still also too so very really quite pretty just only then now here there when while what who why how',
  'which where can could would should will may might must did does do done is was are were be been am',
  'hot cold cool cooler cooled cools room temperature temp early later start beginning end front back top',
  'brew brewed pour water table spoon kettle round rank ranking score color colour look looks smell smells',
  'tongue mouth palate palette throat nose sip sips feel feeling feels finish aftertaste body texture mouthfeel',
  'ish more less most least few many much some any all every each both either neither to of in on at by for',
  'from with without as than and or but if because since until about over under up down out into through',
  'a an the not had has have got get gets love loved like liked hate hated wish want wanted need think thought',
  'crowd pleasing half said hubs eventually visceral reaction sweetener sweeteners creamer capsule capsules',
  'sippable adventurous perception oddly experimental developed summer winter autumn fall spring george',
  'tall know sure agree confusing confused boring exciting special plus idea memorable forgettable inoffensive',
  'offensive approachable quality balance hint hints touch tbd na ditto impressions impression comment',
  'incorrectly correctly improves improved comfortable yucky warmer',
  'quintessential archetypal instant drip espresso filter cafe shop specialty commodity office church hotel',
);

const LONGEST_ITEM = 2;
const SHORTEST_WORD = 3;
const PASSING = new Set<string>(['transparent', 'slight', 'strong', 'doubt']);
const NAMING = new Set(
  phraseList('notes of, note of, hint of, hints of, a hint of, a touch of, tasting notes'),
);

/**
 * The words of a note that seem to describe a taste and mean no attribute: words known to fit none ("bland"),
 * short items of a list that hold nothing understood ("lemon, library, tea"), and what is named as a note
 * ("notes of library"). Talk and words of liking are none. `quiet` marks pieces of talk.
 */
export function findUnplaced(
  text: string,
  pieces: readonly Piece[],
  quiet: readonly boolean[],
): readonly Unplaced[] {
  const isNote = pieces.some((piece, i) => piece.kind === 'attribute' && quiet[i] !== true);
  return splitWhere(pieces, (piece) => endsItem(piece) || isConnector(piece))
    .filter(({ from, to }) => quiet[from] !== true && to > from)
    .flatMap((item) => unplacedIn(pieces, item, isNote))
    .map(({ from, to }) => {
      const span = [pieces[from]?.start ?? 0, pieces[to - 1]?.end ?? 0] as const;
      return { words: text.slice(span[0], span[1]), span };
    });
}

/** A stretch of pieces. */
type Stretch = { readonly from: number; readonly to: number };

function unplacedIn(pieces: readonly Piece[], { from, to }: Stretch, isNote: boolean): readonly Stretch[] {
  const named = namedFrom(pieces, from, to);
  if (named !== null) return [named];
  let first = from;
  while (first < to && isPassing(pieces[first])) first += 1;
  let end = to;
  while (end > first && isPassing(pieces[end - 1])) end -= 1;
  const short = end > first && end - first <= LONGEST_ITEM;
  if (isNote && short && pieces.slice(first, end).every(isUnknown)) return [{ from: first, to: end }];
  return pieces
    .slice(from, to)
    .flatMap(({ kind, text }, i) =>
      kind === 'word' && UNFITTING.has(text) ? [{ from: from + i, to: from + i + 1 }] : [],
    );
}

/** "Notes of library": the unknown words that follow the naming words. */
function namedFrom(pieces: readonly Piece[], from: number, to: number): Stretch | null {
  const item = pieces.slice(from, to);
  const naming = item.findIndex(
    ({ kind, text }, i) => kind === 'cue' && NAMING.has(text) && i + 1 < item.length,
  );
  if (naming < 0) return null;
  const behind = item.slice(naming + 1, naming + 1 + LONGEST_ITEM);
  const known = behind.findIndex((piece) => !isUnknown(piece));
  const count = known < 0 ? behind.length : known;
  return count === 0 ? null : { from: from + naming + 1, to: from + naming + 1 + count };
}

/** Whether a piece at the edge of an item says nothing of what it names: "quite", "maybe", a cup. */
function isPassing(piece: Piece | undefined): boolean {
  return piece?.kind === 'cup' || PASSING.has(piece?.cue ?? '');
}

function isUnknown({ kind, text }: Piece): boolean {
  return kind === 'word' && text.length >= SHORTEST_WORD && !IGNORED.has(text) && /^[a-z]+$/.test(text);
}

/**
 * The words of these texts that name no attribute and have no other work in a note (degree, denial, liking,
 * talk), most frequent first, then by alphabet. What to teach next.
 */
export function unknownWords(
  texts: readonly string[],
  vocabulary: Vocabulary,
): readonly { word: string; count: number }[] {
  const counts = new Map<string, number>();
  for (const text of texts) {
    for (const piece of cutPieces(tokenise(text), vocabulary, () => null)) {
      if (piece.kind !== 'word' || piece.text.length < 2 || IGNORED.has(piece.text)) continue;
      counts.set(piece.text, (counts.get(piece.text) ?? 0) + 1);
    }
  }
  return [...counts]
    .map(([word, count]) => ({ word, count }))
    .sort((a, b) => b.count - a.count || (a.word < b.word ? -1 : 1));
}
