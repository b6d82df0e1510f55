import { foldText } from './fold-text.js';
import { findMarkup, type MarkupFinder } from './slack-markup.js';
import type { Token } from './token.js';

const SPACE = 32;
const APOSTROPHE = 39;
const HYPHEN = 45;
/** & : < and the grave accent begin what Slack puts into a text. */
const MARKUP_STARTS = new Set([38, 58, 60, 96]);
const LOWER_W = 119;
const MARKS = new Set('.,;:!?()[]{}"/\\|<>=+&*_~#%@^$\u2014\u2022\u00b7\u2026\u2192');

/** Splits a message, as Slack sends it, into tokens: one pass, linear in its length. */
export function tokenise(source: string): readonly Token[] {
  const { text, at } = foldText(source);
  const { length } = text;
  let markup: MarkupFinder | null = null;
  const tokens: Token[] = [];
  const push = (kind: Token['kind'], folded: string, from: number, to: number, joined: boolean): void => {
    const start = at === null ? from : (at[from] ?? source.length);
    const end = at === null ? to : (at[to] ?? source.length);
    tokens.push({ kind, text: folded, start, end, joined });
  };
  let joined = false;
  let i = 0;
  while (i < length) {
    const code = text.charCodeAt(i);
    if (code === SPACE || code === 9) {
      joined = false;
      i += 1;
    } else if (isLetter(text, i)) {
      const without = isWithout(text, i);
      const end = without ? i + 3 : wordEnd(text, i);
      if (without) push('word', 'without', i, end, joined);
      else pushWord(push, text.slice(i, end), i, end, joined);
      joined = false;
      i = end;
    } else if (isDigit(code)) {
      const end = numberEnd(text, i);
      push('number', text.slice(i, end), i, end, joined);
      joined = false;
      i = end;
    } else if (code === HYPHEN) {
      // A hyphen inside a compound ("full-bodied") is no token; one that stands free is a mark.
      const inside = i > 0 && isWordAt(text, i - 1) && isWordAt(text, i + 1);
      if (!inside) push('mark', '-', i, i + 1, false);
      joined = inside;
      i += 1;
    } else {
      joined = false;
      if (markup === null && MARKUP_STARTS.has(code)) markup = findMarkup(text);
      i = pushOther(push, text, i, markup);
    }
  }
  return tokens;
}

/** "w/o", as many write it. */
function isWithout(text: string, i: number): boolean {
  return text.charCodeAt(i) === LOWER_W && text.startsWith('w/o', i) && !isWordAt(text, i + 3);
}

type Push = (kind: Token['kind'], folded: string, from: number, to: number, joined: boolean) => void;

function pushWord(push: Push, raw: string, from: number, to: number, joined: boolean): void {
  if (!raw.includes("'")) {
    push('word', raw, from, to, joined);
  } else if (raw.length === 3 && raw.endsWith("'s")) {
    // "C's acidity": the label stays a word of its own.
    push('word', raw.slice(0, 1), from, from + 1, joined);
    push('word', 's', from + 2, to, true);
  } else {
    push('word', raw.replaceAll("'", ''), from, to, joined);
  }
}

function pushOther(push: Push, text: string, i: number, markup: MarkupFinder | null): number {
  const code = text.charCodeAt(i);
  if (code === 10 || code === 13) {
    push('break', '\n', i, i + 1, false);
    return i + 1;
  }
  const found = markup?.(i);
  if (found != null) {
    push(found.kind, found.text, i, found.end, false);
    return found.end;
  }
  const character = code < 128 ? text.charAt(i) : String.fromCodePoint(text.codePointAt(i) ?? 0);
  const end = i + character.length;
  if (MARKS.has(character)) push('mark', character, i, end, false);
  else if (code > 127 && /\p{Extended_Pictographic}/u.test(character))
    push('emoji', character, i, end, false);
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
    const code = text.charCodeAt(i);
    if (code >= 97 && code <= 122) i += 1;
    else if (isLetter(text, i)) i += text.charCodeAt(i) >= 0xd800 && text.charCodeAt(i) < 0xdc00 ? 2 : 1;
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
