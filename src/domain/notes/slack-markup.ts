import type { Token } from './token.js';

/** Markup that begins at an offset of the folded text: what it stands for and where it ends. */
type Markup = { readonly kind: Token['kind']; readonly text: string; readonly end: number };
export type MarkupFinder = (offset: number) => Markup | null;

const ENTITIES: readonly (readonly [string, string])[] = [
  ['&amp;', '&'],
  ['&lt;', '<'],
  ['&gt;', '>'],
];
const SHORTCODE = /:([a-z0-9_+-]*[a-z][a-z0-9_+-]*):/y;
const LONGEST_SHORTCODE = 60;

/**
 * Recognises what Slack puts into a message's text: entities, user and channel mentions, links (nobody's
 * tasting words, so opaque), fenced code and emoji shortcodes. Each search for an end looks at a character
 * once, however many beginnings there are.
 */
export function findMarkup(text: string): MarkupFinder {
  const closingAngle = nextAfter(text, '>');
  const closingFence = nextAfter(text, '```');
  return (offset) => {
    const character = text[offset];
    if (character === '&') return findEntity(text, offset);
    if (character === ':') return findShortcode(text, offset);
    if (character === '<' && /[@#!a-z]/.test(text[offset + 1] ?? '')) {
      const end = closingAngle(offset);
      return end < 0 ? null : { kind: 'opaque', text: text[offset + 1] ?? '', end: end + 1 };
    }
    if (character === '`' && text.startsWith('```', offset)) {
      const end = closingFence(offset + 3);
      return end < 0 ? null : { kind: 'opaque', text: 'code', end: end + 3 };
    }
    return null;
  };
}

function findEntity(text: string, offset: number): Markup | null {
  for (const [entity, character] of ENTITIES) {
    if (text.startsWith(entity, offset))
      return { kind: 'mark', text: character, end: offset + entity.length };
  }
  return null;
}

function findShortcode(text: string, offset: number): Markup | null {
  SHORTCODE.lastIndex = 0;
  const match = SHORTCODE.exec(text.slice(offset, offset + LONGEST_SHORTCODE));
  const name = match?.[1];
  return name === undefined ? null : { kind: 'emoji', text: `:${name}:`, end: offset + name.length + 2 };
}

/** A search for `needle` that remembers its last answer, so that asking at every offset stays linear. */
function nextAfter(text: string, needle: string): (offset: number) => number {
  let last = 0;
  let asked = -1;
  return (offset) => {
    if (asked < 0 || (last >= 0 && last < offset)) last = text.indexOf(needle, offset);
    asked = offset;
    return last;
  };
}
