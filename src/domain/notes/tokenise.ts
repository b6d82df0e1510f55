import { foldText } from './fold-text.js';
import { findMarkup, type MarkupFinder } from './slack-markup.js';
import type { Token } from './token.js';

const SPACE = 32;
const APOSTROPHE = 39;
const HYPHEN = 45;
const MARKS = new Set('.,;:!?()[]{}"/\\|<>=+&*_~#%@^$\u2014\u2022\u00b7\u2026\u2192');

/** Splits a message, as Slack sends it, into tokens: one pass, linear in its length. */
export function tokenise(source: string): readonly Token[] {
  const { text, at } = foldText(source);
  const place = (index: number): number => (at === null ? index : (at[index] ?? source.length));
  const markup = findMarkup(text);
  const tokens: Token[] = [];
  let joined = false;
  let i = 0;
  while (i < text.length) {
    const code = text.charCodeAt(i);
    if (code === SPACE || code === 9) {
      joined = false;
      i += 1;
    } else if (isLetter(text, i)) {
      const end = wordEnd(text, i);
      pushWord(tokens, text.slice(i, end), i, joined, place);
      joined = false;
      i = end;
    } else if (isDigit(code)) {
      const end = numberEnd(text, i);
      tokens.push({ kind: 'number', text: text.slice(i, end), start: place(i), end: place(end), joined });
      joined = false;
      i = end;
    } else if (code === HYPHEN) {
      i = pushHyphen(tokens, text, i, place);
      joined = tokens.at(-1)?.text !== '-' && isWordAt(text, i);
    } else {
      joined = false;
      i = pushOther(tokens, text, i, place, markup);
    }
  }
  return tokens;
}

/** A hyphen inside a compound ("full-bodied") is no token; one that stands free is a mark. */
function pushHyphen(tokens: Token[], text: string, i: number, place: (n: number) => number): number {
  const inside = i > 0 && isWordAt(text, i - 1) && isWordAt(text, i + 1);
  if (!inside) tokens.push({ kind: 'mark', text: '-', start: place(i), end: place(i + 1), joined: false });
  return i + 1;
}

function pushWord(
  tokens: Token[],
  raw: string,
  from: number,
  joined: boolean,
  place: (n: number) => number,
): void {
  const start = place(from);
  const end = place(from + raw.length);
  if (!raw.includes("'")) {
    tokens.push({ kind: 'word', text: raw, start, end, joined });
  } else if (raw.length === 3 && raw.endsWith("'s")) {
    // "C's acidity": the label stays a word of its own.
    tokens.push({ kind: 'word', text: raw.slice(0, 1), start, end: place(from + 1), joined });
    tokens.push({ kind: 'word', text: 's', start: place(from + 2), end, joined: true });
  } else {
    tokens.push({ kind: 'word', text: raw.replaceAll("'", ''), start, end, joined });
  }
}

function pushOther(
  tokens: Token[],
  text: string,
  i: number,
  place: (n: number) => number,
  markup: MarkupFinder,
): number {
  const code = text.charCodeAt(i);
  if (code === 10 || code === 13) {
    tokens.push({ kind: 'break', text: '\n', start: place(i), end: place(i + 1), joined: false });
    return i + 1;
  }
  const found = markup(i);
  if (found !== null) {
    const span = { start: place(i), end: place(found.end), joined: false };
    tokens.push({ kind: found.kind, text: found.text, ...span });
    return found.end;
  }
  const character = String.fromCodePoint(text.codePointAt(i) ?? 0);
  const end = i + character.length;
  if (MARKS.has(character)) {
    tokens.push({ kind: 'mark', text: character, start: place(i), end: place(end), joined: false });
  } else if (code > 127 && /\p{Extended_Pictographic}/u.test(character)) {
    tokens.push({ kind: 'emoji', text: character, start: place(i), end: place(end), joined: false });
  }
  return end;
}

function isLetter(text: string, i: number): boolean {
  const code = text.charCodeAt(i);
  if (code < 128) return code >= 97 && code <= 122;
  if (code >= 0x2000 && code <= 0x2bff) return false;
  return /^\p{L}/u.test(String.fromCodePoint(text.codePointAt(i) ?? 0));
}

function isDigit(code: number): boolean {
  return code >= 48 && code <= 57;
}

function isWordAt(text: string, i: number): boolean {
  return i < text.length && (isDigit(text.charCodeAt(i)) || isLetter(text, i));
}

function wordEnd(text: string, from: number): number {
  let i = from;
  while (i < text.length) {
    if (isLetter(text, i)) i += text.charCodeAt(i) >= 0xd800 && text.charCodeAt(i) < 0xdc00 ? 2 : 1;
    else if (text.charCodeAt(i) === APOSTROPHE && i > from && i + 1 < text.length && isLetter(text, i + 1))
      i += 1;
    else break;
  }
  return i;
}

function numberEnd(text: string, from: number): number {
  let i = from;
  while (i < text.length && isDigit(text.charCodeAt(i))) i += 1;
  if (text[i] === '.' && isDigit(text.charCodeAt(i + 1))) {
    i += 1;
    while (i < text.length && isDigit(text.charCodeAt(i))) i += 1;
  }
  return i;
}
