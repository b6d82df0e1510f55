/** The first word in small letters, without the punctuation a phone may add. */
export function firstWord(words: string): string {
  return (words.trim().split(/\s+/)[0] ?? '').toLowerCase().replace(/[.,:;!?]+$/, '');
}

/** What follows the first word. */
export function afterFirstWord(words: string): string {
  return words.trim().replace(/^\S+\s*/, '');
}

/** The words said to the bot: the mention of it at the start (or end) taken off. */
export function wordsForBot(text: string, botUser: string | null): string {
  const words = text.replaceAll('\u00a0', ' ').trim();
  if (botUser === null) return words.replace(/^<@[A-Z0-9]+(?:\|[^>]*)?>[\s,:]*/, '').trim();
  const mention = `<@${botUser}(?:\\|[^>]*)?>`;
  return words.replace(new RegExp(`^${mention}[\\s,:]*|\\s*${mention}$`, 'g'), '').trim();
}
