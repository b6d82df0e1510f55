import { emptyTree, type PhraseTree, plant } from './phrase-tree.js';

/** What a phrase says of the cups' order. `reversed` lists run from the worst cup to the best. */
export type PlacingWord =
  | 'best'
  | 'second'
  | 'worst'
  | 'ranking'
  | 'reversed'
  | 'over'
  | 'under'
  | 'then'
  | 'tie';

const PHRASES: readonly (readonly [PlacingWord, string])[] = [
  [
    'best',
    'best, the best, favourite, favorite, fave, fav, my favourite, my favorite, winner, the winner, wins, top, top cup, preferred, i prefer, liked best, like best, liked most, like most, like the most, my pick, number one, no 1, first choice, first place, best overall, best cup, overall favorite, overall favourite, ftw',
  ],
  [
    'second',
    'second favourite, second favorite, 2nd favourite, 2nd favorite, second best, 2nd best, second choice, 2nd choice, runner up, second place, 2nd place, 2nd fave',
  ],
  [
    'worst',
    'worst, the worst, least favourite, least favorite, my least favourite, my least favorite, least liked, liked least, like least, least preferred, last place, comes last, came last, is last, bottom, last choice',
  ],
  [
    'ranking',
    'ranking, ranked, rank, rankings, my ranking, order, my order, placing, placings, order of preference, preference order, best to worst, favourite to least favourite, favorite to least favorite, top to bottom, in order, order is',
  ],
  ['reversed', 'worst to best, least to most, bottom to top, reverse order'],
  [
    'over',
    'over, beats, beat, better than, is better than, above, ahead of, nicer than, tops, preferred over, prefer over, wins over, tastier than',
  ],
  ['under', 'under, below, worse than, is worse than, behind, loses to, beaten by'],
  ['then', 'then, followed by, and then, after that'],
  [
    'tie',
    'tied with, ties with, same as, equal to, level with, on par with, as good as, is as good as, just as good as',
  ],
];

/** The phrases of placing, laid out for longest match over pieces' words. */
export const PLACING_PHRASES: PhraseTree<PlacingWord> = layOut();

function layOut(): PhraseTree<PlacingWord> {
  const tree = emptyTree<PlacingWord>();
  for (const [word, phrases] of PHRASES) {
    for (const phrase of phrases.split(', ')) plant(tree, phrase.split(' '), word);
  }
  return tree;
}
