/** The words after `/spoon`, in the order help shows them. */
export const VERBS = [
  'book',
  'table',
  'pour',
  'note',
  'tally',
  'digest',
  'ask',
  'shelf',
  'recipe',
  'words',
  'house',
  'help',
] as const;

const NAMES: ReadonlySet<string> = new Set(VERBS);

/** Do these words begin with one of the bot's verbs? */
export function isVerb(words: string): boolean {
  return NAMES.has(firstWord(words));
}

/** The first word in small letters, without the punctuation a phone may add. */
export function firstWord(words: string): string {
  return (words.trim().split(/\s+/)[0] ?? '').toLowerCase().replace(/[.,:;!?]+$/, '');
}

/** What follows the first word. */
export function afterFirstWord(words: string): string {
  return words.trim().replace(/^\S+\s*/, '');
}
