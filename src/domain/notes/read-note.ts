import { findComparisons } from './comparison.js';
import { assignCups } from './cup-assignment.js';
import { findCupReferences, type NoteContext } from './cup-reference.js';
import { findDegrees } from './degree.js';
import { findDenials, findDoubts } from './denial.js';
import { readFrames } from './frames.js';
import { findInert } from './inert.js';
import { settleModifiers } from './modifiers.js';
import { cutPieces, type Piece } from './piece.js';
import { readPlacing } from './placing.js';
import { placingItems } from './placing-lists.js';
import type { Mention, Polarity, Reading } from './reading.js';
import { degreeIntensity, findScores, rateAttributes, readLiking, type Score } from './scores.js';
import { findTalk } from './talk.js';
import { tokenise, withdrawWords } from './tokenise.js';
import { findUnplaced } from './unplaced.js';
import type { Vocabulary } from './vocabulary.js';

/**
 * Reads a taster's note, as Slack sends its text. Never throws; linear in the text's length. The text is cut
 * into pieces, words with two meanings are settled, then each rule passes over the pieces by itself.
 */
export function readNote(text: string, context: NoteContext, vocabulary: Vocabulary): Reading {
  const homeCup = context.cups.length === 0 ? null : context.homeCup;
  const tokens = withdrawWords(tokenise(text));
  const cut = cutPieces(tokens, vocabulary, findCupReferences(tokens, context));
  const pieces = settleModifiers(readFrames(cut, vocabulary.attributes), vocabulary.attributes);
  const cups = assignCups(pieces, homeCup);
  const scores = findScores(pieces);
  const talk = findTalk(pieces, tokens);
  const mentions = readMentions(pieces, cups, scores, talk);
  const needsCup =
    context.cups.length > 0 && mentions.length > 0 && mentions.every(({ cup }) => cup === null);
  return {
    text,
    mentions,
    ...readPlacing(placingItems(tokens, pieces), homeCup),
    liking: readLiking(pieces, scores, cups),
    needsCup,
    unplaced: findUnplaced(text, pieces, talk),
  };
}

/** What the pieces claim, each attribute once per cup and polarity, at the place where it was said first. */
function readMentions(
  pieces: readonly Piece[],
  cups: readonly (readonly string[])[],
  scores: readonly Score[],
  talk: readonly boolean[],
): readonly Mention[] {
  const rated = rateAttributes(pieces, scores);
  const inert = findInert(pieces);
  const denied = findDenials(pieces);
  const degrees = findDegrees(pieces);
  const doubts = findDoubts(pieces);
  const comparisons = findComparisons(pieces);
  const mentions: Mention[] = [];
  const said = new Set<string>();
  for (const [i, piece] of pieces.entries()) {
    if (piece.entry === null || inert[i] || talk[i] || comparisons[i] === 'against') continue;
    const attribute = piece.entry.name;
    const turned = denied[i] !== (piece.twist === 'reversed');
    const polarity: Polarity = comparisons[i] === 'compared' ? 'compared' : turned ? 'denied' : 'present';
    const rating = rated.get(i);
    const degree = polarity === 'denied' ? 'plain' : (rating?.degree ?? degrees[i] ?? 'plain');
    const about = cups[i] ?? [];
    for (const cup of about.length === 0 ? [null] : about) {
      const key = `${cup ?? ''}\n${attribute}\n${polarity}`;
      if (said.has(key)) continue;
      said.add(key);
      mentions.push({
        cup,
        attribute,
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
