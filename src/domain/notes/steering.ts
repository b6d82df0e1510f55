import type { Cue } from './cue-words.js';
import { isLevelled } from './degree.js';
import type { Piece } from './piece.js';

/** Which kinds of steering words a note holds at all: a rule whose words it lacks need not be asked. */
export type Steering = {
  readonly denial: boolean;
  readonly degree: boolean;
  readonly doubt: boolean;
  readonly comparison: boolean;
};

type Rule = keyof Steering;

const RULES = new Map<Cue, Rule>([
  ['deny', 'denial'],
  ['denyNot', 'denial'],
  ['absent', 'denial'],
  ['slight', 'degree'],
  ['hedged', 'degree'],
  ['strong', 'degree'],
  ['afterSlight', 'degree'],
  ['afterStrong', 'degree'],
  ['doubt', 'doubt'],
  ['more', 'comparison'],
  ['less', 'comparison'],
  ['most', 'comparison'],
  ['equal', 'comparison'],
  ['than', 'comparison'],
]);

/** Looks once through the pieces for what the rules of denial, degree, doubt and comparison steer by. */
export function findSteering(pieces: readonly Piece[]): Steering {
  const found = { denial: false, degree: false, doubt: false, comparison: false };
  for (let i = 0; i < pieces.length; i += 1) {
    const piece = pieces[i];
    if (piece === undefined || piece.kind === 'word') continue;
    if (piece.cue !== null) {
      const rule = RULES.get(piece.cue);
      if (rule !== undefined) found[rule] = true;
    } else if (piece.kind === 'attribute') {
      if (piece.twist === 'slight' || isLevelled(piece.text)) found.degree = true;
      else if (piece.twist === 'more' || piece.twist === 'most') found.comparison = true;
    } else if (piece.text === '?') found.doubt = true;
    else if (piece.text === '!') found.degree = true;
  }
  return found;
}
