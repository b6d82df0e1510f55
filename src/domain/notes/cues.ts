import { CUE_PHRASES, type Cue } from './cue-words.js';
import { emptyTree, type PhraseTree, plant } from './phrase-tree.js';

/** The phrases that steer a reading, laid out for longest match. A phrase listed twice keeps its first cue. */
export const CUES: PhraseTree<Cue> = layOut();

function layOut(): PhraseTree<Cue> {
  const tree = emptyTree<Cue>();
  for (const cue of cueNames()) for (const phrase of CUE_PHRASES[cue]) plant(tree, phrase.split(' '), cue);
  return tree;
}

function cueNames(): readonly Cue[] {
  return [
    'deny',
    'denyNot',
    'hedged',
    'affirm',
    'absent',
    'slight',
    'strong',
    'afterSlight',
    'afterStrong',
    'doubt',
    'more',
    'less',
    'most',
    'equal',
    'than',
    'contrast',
    'and',
    'or',
    'time',
    'link',
    'transparent',
    'liking',
    'body',
    'finish',
    'smell',
  ];
}
