import { endsItem, endsSentence, isConnector } from './boundary.js';
import type { Piece } from './piece.js';

/**
 * Which pieces the taster is unsure of: what follows "maybe", "almost", "kind of" up to the end of the
 * item, and what stands before a question mark in its item.
 */
export function findDoubts(pieces: readonly Piece[]): readonly boolean[] {
  const doubted = new Array<boolean>(pieces.length).fill(false);
  let open = false;
  for (let i = 0; i < pieces.length; i += 1) {
    const piece = pieces[i];
    if (piece === undefined) continue;
    if (piece.cue === 'doubt') open = true;
    else if (piece.kind === 'attribute') doubted[i] = open;
    else if (piece.text === '?') {
      doubtBack(pieces, doubted, i);
      open = false;
    } else if (endsItem(piece) || piece.cue === 'contrast') open = false;
  }
  return doubted;
}

function doubtBack(pieces: readonly Piece[], doubted: boolean[], from: number): void {
  for (let i = from - 1; i >= 0; i -= 1) {
    const piece = pieces[i];
    if (piece === undefined || doubted[i] === true) return;
    const bracket = i === from - 1 && (piece.text === '(' || piece.text === '?');
    if (!bracket && (endsSentence(piece) || endsItem(piece))) return;
    if (piece.kind === 'attribute') doubted[i] = true;
    else if (!bracket && piece.cue === null && !isConnector(piece)) continue;
  }
}
