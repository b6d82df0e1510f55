import { findComparisons } from './comparison.js';
import { assignCups } from './cup-assignment.js';
import { cupPhrases } from './cup-phrases.js';
import { findCupReferences, noCupAt } from './cup-reference.js';
import { findDegrees } from './degree.js';
import { findDenials } from './denial.js';
import { findDoubts } from './doubt.js';
import { readFrames } from './frames.js';
import { findInert } from './inert.js';
import { degreeIntensity, rateAttributes } from './intensity.js';
import { readLiking } from './liking.js';
import { settleModifiers } from './modifiers.js';
import type { NoteContext } from './note-context.js';
import { cutPieces, type Piece } from './piece.js';
import { type Placing, readPlacing } from './placing.js';
import { placingItems } from './placing-items.js';
import { isPlainList, plainMentions } from './plain-list.js';
import { findRatings, type Rating } from './rating-numbers.js';
import type { Mention, Polarity, Reading } from './reading.js';
import { findSteering } from './steering.js';
import { findTalk } from './talk.js';
import type { Token } from './token.js';
import { tokenise } from './tokenise.js';
import { findUnplaced } from './unplaced.js';
import type { Vocabulary } from './vocabulary.js';
import { withdrawWords } from './withdrawn.js';

const NO_CUP: readonly null[] = [null];
const NO_CUPS: readonly (readonly string[])[] = [];
const NO_TALK: readonly boolean[] = [];
/** What a rule finds whose words the note lacks. */
const NONE: readonly never[] = [];
const UNRATED: ReturnType<typeof rateAttributes> = new Map();
const NO_PLACING: Placing = { order: null, worst: [] };

/** Reads a taster's note, as Slack sends its text. Never throws; linear in the text's length. */
export function readNote(text: string, context: NoteContext, vocabulary: Vocabulary): Reading {
  const tokens = withdrawWords(text, tokenise(text));
  const pieces = readPieces(tokens, context, vocabulary);
  const home = context.cups.length === 0 ? null : context.homeCup;
  if (isPlainList(pieces)) return plainReading(text, plainMentions(pieces, home), context);
  const cups = context.cups.length === 0 ? NO_CUPS : assignCups(pieces, context);
  const ratings = findRatings(pieces);
  const claiming = pieces.some(({ entry }) => entry !== null);
  const talk = claiming ? findTalk(pieces, tokens) : NO_TALK;
  const mentions = claiming ? readMentions(pieces, cups, ratings, talk) : [];
  const { order, worst } =
    context.cups.length === 0 ? NO_PLACING : readPlacing(placingItems(tokens, pieces), context.homeCup);
  const liking = context.cups.length === 0 ? {} : readLiking(pieces, ratings, cups);
  const needsCup =
    context.cups.length > 0 && mentions.length > 0 && mentions.every(({ cup }) => cup === null);
  return { text, mentions, order, worst, liking, needsCup, unplaced: findUnplaced(text, pieces, talk) };
}

function plainReading(text: string, mentions: readonly Mention[], { cups, homeCup }: NoteContext): Reading {
  const needsCup = cups.length > 0 && homeCup === null && mentions.length > 0;
  return { text, mentions, order: null, worst: [], liking: {}, needsCup, unplaced: [] };
}

function readPieces(
  tokens: readonly Token[],
  context: NoteContext,
  { attributes, lexicon }: Vocabulary,
): readonly Piece[] {
  const cupAt = context.cups.length === 0 ? noCupAt : findCupReferences(tokens, cupPhrases(context));
  const cut = cutPieces(tokens, lexicon, cupAt);
  return settleModifiers(readFrames(cut, attributes), attributes);
}

/** What the pieces claim, each attribute once per cup and polarity, at the place where it was said first. */
function readMentions(
  pieces: readonly Piece[],
  cups: readonly (readonly string[])[],
  ratings: readonly Rating[],
  talk: readonly boolean[],
): readonly Mention[] {
  const steering = findSteering(pieces);
  const rated = ratings.length === 0 ? UNRATED : rateAttributes(pieces, ratings);
  const inert = findInert(pieces);
  const denied = steering.denial ? findDenials(pieces) : NONE;
  const degrees = steering.degree ? findDegrees(pieces) : NONE;
  const doubts = steering.doubt ? findDoubts(pieces) : NONE;
  const comparisons = steering.comparison ? findComparisons(pieces) : NONE;
  const mentions: Mention[] = [];
  for (let i = 0; i < pieces.length; i += 1) {
    const piece = pieces[i];
    if (piece === undefined) continue;
    if (piece.entry === null || inert[i] === true || talk[i] === true || comparisons[i] === 'against')
      continue;
    const turned = (denied[i] === true) !== (piece.twist === 'reversed');
    const polarity: Polarity = comparisons[i] === 'compared' ? 'compared' : turned ? 'denied' : 'present';
    const rating = rated.get(i);
    const degree = polarity === 'denied' ? 'plain' : (rating?.degree ?? degrees[i] ?? 'plain');
    const about = cups[i];
    const { name } = piece.entry;
    for (const cup of about === undefined || about.length === 0 ? NO_CUP : about) {
      if (isSaid(mentions, cup, name, polarity)) continue;
      mentions.push({
        cup,
        attribute: name,
        polarity,
        degree,
        intensity: polarity === 'present' ? (rating?.intensity ?? degreeIntensity(degree)) : null,
        doubt: doubts[i] === true,
        span: [piece.start, piece.end],
      });
    }
  }
  return mentions;
}

/** Bounded work however long the note is: there are only so many attributes, cups and polarities. */
function isSaid(
  mentions: readonly Mention[],
  cup: string | null,
  attribute: string,
  polarity: Polarity,
): boolean {
  for (let i = 0; i < mentions.length; i += 1) {
    const said = mentions[i];
    if (said?.attribute === attribute && said.polarity === polarity && said.cup === cup) return true;
  }
  return false;
}
