import { gemoji } from 'gemoji';
import type { Context } from '../context.js';
import { findChannelByName } from '../state/channels.js';
import { findPersonByName } from '../state/people.js';

const PARTS =
  /(https?:\/\/[^\s<>]+)|([\w.+-]+@[\w-]+(?:\.[\w-]+)+)|(?<![\w@])@([a-z0-9._-]+)|(?<![\w#&])#([a-z0-9_-]+)/gi;
const BROADCASTS = new Set(['here', 'channel', 'everyone']);

/** `message` leaves names bare; `command` adds them, as Slack does with `should_escape`. */
type Form = 'message' | 'command';

/** Text as typed, turned into what Slack sends: entities, and mentions, channels and links in brackets. */
export function escapedText(ctx: Context, typed: string, form: Form): string {
  let result = '';
  let from = 0;
  for (const match of typed.matchAll(PARTS)) {
    const { text, used } = replaced(ctx, match, form);
    result += plain(typed.slice(from, match.index)) + text;
    from = match.index + used;
  }
  return result + plain(typed.slice(from));
}

function replaced(
  ctx: Context,
  match: RegExpExecArray,
  form: Form,
): { readonly text: string; readonly used: number } {
  const [whole, link, mail, handle, channel] = match;
  const as = (text: string, used: number) => ({ text, used });
  if (link !== undefined) {
    const address = link.replace(/[.,;:!?)'"\]]+$/, '');
    return as(`<${entities(address)}>`, address.length);
  }
  if (mail !== undefined) return as(`<mailto:${mail}|${mail}>`, whole.length);
  if (handle !== undefined) {
    const name = handle.replace(/[._-]+$/, '');
    const mention = mentionOf(ctx, name, form) ?? mentionOf(ctx, handle, form);
    if (mention !== undefined) return as(mention, name.length + 1);
  }
  if (channel !== undefined) {
    const found = findChannelByName(ctx.db, channel);
    // A private channel's name is not given away in a command.
    const shown = found?.kind === 'private' && form === 'command' ? '' : found?.name;
    if (found !== undefined) return as(`<#${found.id}|${shown}>`, whole.length);
  }
  return as(entities(whole), whole.length);
}

function mentionOf(ctx: Context, name: string, form: Form): string | undefined {
  if (BROADCASTS.has(name.toLowerCase())) return `<!${name.toLowerCase()}>`;
  const person = findPersonByName(ctx.db, name);
  if (person === undefined) return undefined;
  return form === 'command' ? `<@${person.id}|${person.name}>` : `<@${person.id}>`;
}

function plain(text: string): string {
  return entities(emojiNamed(text));
}

function entities(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}

const emojiNames = new Map(gemoji.map(({ emoji, names: [name = ''] }) => [emoji, name]));
const graphemes = new Intl.Segmenter('en', { granularity: 'grapheme' });
const EMOJI_LIKE = /\p{Extended_Pictographic}|\p{Regional_Indicator}|\u20e3/u;
const SKIN_TONE = /[\u{1f3fb}-\u{1f3ff}]/u;
const LIGHTEST = 0x1f3fb;

/** Emoji as Slack's clients send them: by name between colons, a skin tone behind. Unknown ones stay. */
export function emojiNamed(text: string): string {
  if (!EMOJI_LIKE.test(text)) return text;
  return Array.from(graphemes.segment(text), ({ segment }) => emojiName(segment) ?? segment).join('');
}

function emojiName(grapheme: string): string | undefined {
  const plain = emojiNames.get(grapheme);
  if (plain !== undefined) return `:${plain}:`;
  const tone = SKIN_TONE.exec(grapheme)?.[0].codePointAt(0);
  if (tone === undefined) return undefined;
  const bare = grapheme.replace(SKIN_TONE, '');
  const name = emojiNames.get(bare) ?? emojiNames.get(`${bare}\ufe0f`);
  // Slack counts the five tones of Unicode from two.
  return name === undefined ? undefined : `:${name}::skin-tone-${tone - LIGHTEST + 2}:`;
}
