/**
 * Text folded for reading: lower case, compatibility forms decomposed, accents and invisible characters
 * dropped, typographic quotes and dashes plain. `at[i]` is where folded character i begins in the source
 * (null when all of it is ASCII and the two run in step), so every span can be given in the source's own offsets.
 */
type FoldedText = { readonly text: string; readonly at: readonly number[] | null };

const SINGLES = new Map([
  ['\u2018', "'"],
  ['\u2019', "'"],
  ['\u02bc', "'"],
  ['\u2032', "'"],
  ['\u00b4', "'"],
  ['\u201c', '"'],
  ['\u201d', '"'],
  ['\u2010', '-'],
  ['\u2011', '-'],
  ['\u2013', '\u2014'],
  ['\u2015', '\u2014'],
  ['\u2212', '-'],
  ['\u2044', '/'],
  ['\u2028', '\n'],
  ['\u2029', '\n'],
  ['\u00df', 'ss'],
  ['\u00e6', 'ae'],
  ['\u0153', 'oe'],
  ['\u00f8', 'o'],
  ['\u0131', 'i'],
]);

const ASCII = /^[\0-\x7f]*$/;

/** Folds a message, in one pass. */
export function foldText(source: string): FoldedText {
  if (ASCII.test(source)) return { text: source.toLowerCase(), at: null };
  let text = '';
  const at: number[] = [];
  let position = 0;
  for (const character of source) {
    const folded = foldCharacter(character);
    for (let i = 0; i < folded.length; i += 1) at.push(position);
    text += folded;
    position += character.length;
  }
  return { text, at };
}

/** Character by character, so that it gives the same for every Unicode normal form and for either case. */
function foldCharacter(character: string): string {
  const direct = SINGLES.get(character);
  if (direct !== undefined) return direct;
  const plain = decompose(decompose(character).toUpperCase().toLowerCase());
  let folded = '';
  for (const part of plain) folded += SINGLES.get(part) ?? part;
  return folded;
}

function decompose(text: string): string {
  return text.normalize('NFKD').replace(/[\p{M}\p{Cf}\u115f\u1160]/gu, '');
}

/**
 * The smallest pieces of a note. `text` is folded (lower case, no apostrophes); `start` and `end` are offsets
 * in the text as given; `joined` says that a hyphen ties the token to the one before.
 */
export type Token = {
  readonly kind: 'word' | 'number' | 'mark' | 'emoji' | 'break' | 'opaque';
  readonly text: string;
  readonly start: number;
  readonly end: number;
  readonly joined: boolean;
};

/**
 * A stretch of the folded text: what it stands for and where it ends. A `tie` joins two words ("full-bodied"),
 * a `gap` is nothing to read.
 */
type Stretch = { readonly kind: Token['kind'] | 'tie' | 'gap'; readonly text: string; readonly end: number };

const MARKS = new Set('.,;:!?()[]{}"/\\|<>=+&*_~#%@^$-\u2014\u2022\u00b7\u2026\u2192');
/** Letters of any script, without the look-alikes among symbols. */
const LETTER = '(?:(?![\\u2000-\\u2bff])\\p{L})';
/**
 * In this order: "w/o", as many write it; the letter of "C's", so that a label stays a word of its own; a word;
 * a number; what ties two words; any other character.
 */
const STRETCH = new RegExp(
  [
    `(w/o(?!${LETTER}|\\d))`,
    `(${LETTER}(?='s(?!'?${LETTER}))|${LETTER}+(?:'${LETTER}+)*)`,
    '(\\d+(?:\\.\\d+)?)',
    `((?<=${LETTER}|\\d)-(?=${LETTER}|\\d)|(?<=${LETTER})'(?=${LETTER}))`,
    '[^]',
  ].join('|'),
  'uy',
);

/** Splits a message, as Slack sends it, into tokens: one pass, linear in its length. */
export function tokenise(source: string): readonly Token[] {
  const { text, at } = foldText(source);
  const markupAt = findMarkup(text);
  const tokens: Token[] = [];
  const offset = (i: number): number => (at === null ? i : (at[i] ?? source.length));
  let joined = false;
  let i = 0;
  while (i < text.length) {
    const { kind, text: folded, end } = markupAt(i) ?? stretchAt(text, i);
    if (kind !== 'tie' && kind !== 'gap')
      tokens.push({ kind, text: folded, start: offset(i), end: offset(end), joined });
    joined = kind === 'tie';
    i = end;
  }
  return tokens;
}

function stretchAt(text: string, i: number): Stretch {
  STRETCH.lastIndex = i;
  const [whole = '', without, word, number, tie] = STRETCH.exec(text) ?? [];
  const end = i + whole.length;
  if (without !== undefined) return { kind: 'word', text: 'without', end };
  if (word !== undefined) return { kind: 'word', text: word.replaceAll("'", ''), end };
  if (number !== undefined) return { kind: 'number', text: number, end };
  if (tie !== undefined) return { kind: 'tie', text: tie, end };
  if (whole === '\n' || whole === '\r') return { kind: 'break', text: '\n', end };
  if (MARKS.has(whole)) return { kind: 'mark', text: whole, end };
  const emoji = whole > '\x7f' && /\p{Extended_Pictographic}/u.test(whole);
  return { kind: emoji ? 'emoji' : 'gap', text: whole, end };
}

const ENTITIES: readonly (readonly [string, string])[] = [
  ['&amp;', '&'],
  ['&lt;', '<'],
  ['&gt;', '>'],
];
const SHORTCODE = /:[a-z0-9_+-]*[a-z][a-z0-9_+-]*:/y;
const LONGEST_SHORTCODE = 60;

/**
 * Recognises what Slack puts into a message's text: entities, user and channel mentions, links (nobody's
 * tasting words, so opaque), fenced code and emoji shortcodes. Each search for an end looks at a character
 * once, however many beginnings there are.
 */
function findMarkup(text: string): (offset: number) => Stretch | null {
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

function findEntity(text: string, offset: number): Stretch | null {
  const found = ENTITIES.find(([entity]) => text.startsWith(entity, offset));
  return found === undefined ? null : { kind: 'mark', text: found[1], end: offset + found[0].length };
}

function findShortcode(text: string, offset: number): Stretch | null {
  SHORTCODE.lastIndex = 0;
  const name = SHORTCODE.exec(text.slice(offset, offset + LONGEST_SHORTCODE))?.[0];
  return name === undefined ? null : { kind: 'emoji', text: name, end: offset + name.length };
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

/**
 * Takes away words that are not the taster's claim: struck through (`~lemon~`) and quoted from someone else
 * (a line that begins with `>`). They become opaque, so spans of the others stay as they are.
 */
export function withdrawWords(tokens: readonly Token[]): readonly Token[] {
  const kept = [...tokens];
  let struckFrom = -1;
  let quoted = false;
  for (const [i, token] of tokens.entries()) {
    const lineStart = i === 0 || tokens[i - 1]?.kind === 'break';
    if (token.kind === 'break') {
      struckFrom = -1;
      quoted = false;
    } else if (lineStart && token.text === '>') quoted = true;
    if (quoted) kept[i] = hide(token);
    if (token.text !== '~') continue;
    const closes = struckFrom >= 0 && tokens[i - 1]?.end === token.start && i > struckFrom + 1;
    if (closes) {
      for (let j = struckFrom; j <= i; j += 1) kept[j] = hide(tokens[j] ?? token);
      struckFrom = -1;
    } else if (tokens[i + 1]?.start === token.end) struckFrom = struckFrom < 0 ? i : struckFrom;
  }
  return kept;
}

function hide(token: Token): Token {
  return { ...token, kind: 'opaque', text: '' };
}
