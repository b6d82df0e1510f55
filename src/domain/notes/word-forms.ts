/**
 * What a form adds to its word: "-ish" makes it slight, "-er" compares, "-est" compares with all, "un-"
 * turns it round.
 */
export type Twist = 'slight' | 'more' | 'most' | 'reversed';
export type WordForm = { readonly word: string; readonly twist: Twist | null };

/** A possible base word, and whether the form is one that nouns or adjectives take. */
export type BaseForm = WordForm & { readonly of: 'noun' | 'adjective' | 'any' };

const SHORTEST_BASE = 3;

type Ending = readonly [
  ending: string,
  replacements: readonly string[],
  of: BaseForm['of'],
  twist: Twist | null,
];

const ENDINGS: readonly Ending[] = [
  ['iness', ['y', ''], 'any', null],
  ['yness', ['y', ''], 'any', null],
  ['ness', [''], 'any', null],
  ['iest', ['y', 'ey', '', 'e'], 'any', 'most'],
  ['ier', ['y', 'ey', '', 'e'], 'any', 'more'],
  ['est', ['', 'e'], 'adjective', 'most'],
  ['er', ['', 'e'], 'adjective', 'more'],
  ['ies', ['y', 'ie'], 'noun', null],
  ['es', ['', 'e'], 'noun', null],
  ['s', [''], 'noun', null],
  ['yish', ['y', ''], 'any', 'slight'],
  ['ish', ['', 'e', 'y'], 'any', 'slight'],
  ['esque', ['', 'e', 'y'], 'noun', null],
  ['like', [''], 'noun', null],
  ['ey', ['', 'e', 'y'], 'noun', null],
  ['ie', ['y'], 'noun', null],
  ['y', ['', 'e'], 'noun', null],
  ['ed', ['', 'e'], 'noun', null],
];

/**
 * The words that `word` may be a form of, most likely first: plurals, adjectives, comparatives, "-ness",
 * "-ish", "un-". Not all of them are words: the caller keeps those that its vocabulary has.
 */
export function baseForms(word: string): readonly BaseForm[] {
  const forms = endings(word);
  if (!word.startsWith('un') || word.length < 6) return forms;
  const positive = word.slice(2);
  const reversed: BaseForm[] = [{ word: positive, twist: 'reversed', of: 'adjective' }];
  for (const form of endings(positive)) reversed.push({ ...form, twist: 'reversed' });
  return [...forms, ...reversed];
}

function endings(word: string): BaseForm[] {
  const forms: BaseForm[] = [];
  for (const [ending, replacements, of, twist] of ENDINGS) {
    if (!word.endsWith(ending)) continue;
    const stem = word.slice(0, word.length - ending.length);
    if (stem.length < SHORTEST_BASE) continue;
    for (const replacement of replacements) forms.push({ word: stem + replacement, of, twist });
    // "nutty", "flatter": a consonant doubled before the ending.
    const last = stem.at(-1) ?? '';
    if (stem.length > SHORTEST_BASE && last === stem.at(-2) && !'aeiou'.includes(last)) {
      forms.push({ word: stem.slice(0, -1), of, twist });
    }
  }
  return forms;
}
