import { gemoji } from 'gemoji';

const names = new Map(gemoji.map(({ emoji, names: [name = ''] }) => [emoji, name]));
const graphemes = new Intl.Segmenter('en', { granularity: 'grapheme' });
const EMOJI_LIKE = /\p{Extended_Pictographic}|\p{Regional_Indicator}|\u20e3/u;
const SKIN_TONE = /[\u{1f3fb}-\u{1f3ff}]/u;
const LIGHTEST = 0x1f3fb;

/** Emoji as Slack's clients send them: by name between colons, a skin tone behind. Unknown ones stay. */
export function emojiNamed(text: string): string {
  if (!EMOJI_LIKE.test(text)) return text;
  return Array.from(graphemes.segment(text), ({ segment }) => named(segment) ?? segment).join('');
}

function named(grapheme: string): string | undefined {
  const plain = names.get(grapheme);
  if (plain !== undefined) return `:${plain}:`;
  const tone = SKIN_TONE.exec(grapheme)?.[0].codePointAt(0);
  if (tone === undefined) return undefined;
  const bare = grapheme.replace(SKIN_TONE, '');
  const name = names.get(bare) ?? names.get(`${bare}\ufe0f`);
  // Slack counts the five tones of Unicode from two.
  return name === undefined ? undefined : `:${name}::skin-tone-${tone - LIGHTEST + 2}:`;
}
