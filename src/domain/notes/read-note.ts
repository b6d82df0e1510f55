import { findComparisons } from './comparison.js';
import { assignCups } from './cups.js';
import { findDegrees } from './degree.js';
import { findDenials } from './denial.js';
import { findDoubts } from './doubt.js';
import { readFrames } from './frames.js';
import { findInert } from './inert.js';
import { degreeIntensity } from './intensity.js';
import { settleModifiers } from './modifiers.js';
import type { NoteContext } from './note-context.js';
import { cutPieces } from './piece.js';
import type { Mention, Polarity, Reading } from './reading.js';
import { tokenise } from './tokenise.js';
import type { Vocabulary } from './vocabulary.js';

/** Reads a taster's note, as Slack sends its text. Never throws; linear in the text's length. */
export function readNote(text: string, context: NoteContext, vocabulary: Vocabulary): Reading {
  const { attributes, lexicon } = vocabulary;
  const cut = cutPieces(tokenise(text), lexicon);
  const pieces = settleModifiers(readFrames(cut, attributes), attributes);
  const inert = findInert(pieces);
  const { pieceCups, order, worst, liking } = assignCups(pieces, context);
  const denied = findDenials(pieces);
  const degrees = findDegrees(pieces);
  const doubts = findDoubts(pieces);
  const comparisons = findComparisons(pieces);
  const mentions: Mention[] = [];
  const seen = new Map<string, number>();
  for (const [i, piece] of pieces.entries()) {
    if (piece.entry === null || inert[i] === true || comparisons[i] === 'against') continue;
    const turned = (denied[i] === true) !== (piece.twist === 'reversed');
    const polarity: Polarity = comparisons[i] === 'compared' ? 'compared' : turned ? 'denied' : 'present';
    const degree = degrees[i] ?? 'plain';
    for (const cup of pieceCups[i] ?? [null]) {
      const key = `${cup ?? ''}\n${piece.entry.name}\n${polarity}`;
      const before = seen.get(key);
      const mention: Mention = {
        cup,
        attribute: piece.entry.name,
        polarity,
        degree,
        intensity: polarity === 'present' ? degreeIntensity(degree) : null,
        doubt: doubts[i] === true,
        span: [piece.start, piece.end],
      };
      if (before === undefined) {
        seen.set(key, mentions.length);
        mentions.push(mention);
      }
    }
  }
  const needsCup = context.cups.length > 0 && mentions.some(({ cup }) => cup === null);
  return { text, mentions, order, worst, liking, needsCup, unplaced: [] };
}
