import { CUE_PHRASES, type Cue } from './cue-words.js';
import { emptyTree, type PhraseTree, plant } from './phrase-tree.js';

/** A phrase listed under two cues has the one that stands first here. */
const CUE_NAMES: readonly Cue[] = [
  ...([
    'deny',
    'denyNot',
    'hedged',
    'affirm',
    'absent',
    'slight',
    'strong',
    'afterSlight',
    'afterStrong',
  ] as const),
  ...(['doubt', 'more', 'less', 'most', 'equal', 'than', 'contrast', 'and', 'or', 'time', 'change'] as const),
  ...(['inert', 'link', 'transparent', 'liking', 'body', 'finish', 'smell'] as const),
];

/** The phrases that steer a reading, laid out for longest match. */
export const CUES: PhraseTree<Cue> = layOut();

function layOut(): PhraseTree<Cue> {
  const tree = emptyTree<Cue>();
  for (const cue of CUE_NAMES) for (const phrase of CUE_PHRASES[cue]) plant(tree, phrase.split(' '), cue);
  return tree;
}

/** Every single word of a cue phrase. */
export const CUE_WORDS: ReadonlySet<string> = new Set(
  Object.values(CUE_PHRASES).flatMap((phrases) => phrases.flatMap((phrase) => phrase.split(' '))),
);
