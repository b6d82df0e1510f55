import { emojiFor } from './emoji.js';

/** A piece of a line of mrkdwn, ready to be drawn. */
export type Inline =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'bold' | 'italic' | 'strike'; readonly children: readonly Inline[] }
  | { readonly kind: 'code'; readonly text: string }
  | { readonly kind: 'link'; readonly href: string; readonly label: string }
  | { readonly kind: 'person'; readonly id: string; readonly label: string | null }
  | { readonly kind: 'channel'; readonly id: string; readonly label: string | null }
  | { readonly kind: 'broadcast'; readonly name: string }
  | { readonly kind: 'date'; readonly unix: number; readonly format: string; readonly fallback: string }
  | { readonly kind: 'break' };

/** A run of lines of mrkdwn. */
export type Passage =
  | { readonly kind: 'paragraph' | 'quote'; readonly children: readonly Inline[] }
  | { readonly kind: 'fence'; readonly text: string };

const ENTITIES = new Map([
  ['&amp;', '&'],
  ['&lt;', '<'],
  ['&gt;', '>'],
]);

/** Decodes the three entities Slack uses, once. */
export function decodeEntities(text: string): string {
  return text.replace(/&(?:amp|lt|gt);/g, (entity) => ENTITIES.get(entity) ?? entity);
}

/** Reads mrkdwn into passages; anything it does not know stays as it was typed. */
export function parseMrkdwn(source: string): readonly Passage[] {
  const passages: Passage[] = [];
  for (const [index, part] of source.split('```').entries()) {
    if (index % 2 === 1) passages.push({ kind: 'fence', text: decodeEntities(part.replace(/^\n|\n$/g, '')) });
    else passages.push(...parseLines(part));
  }
  return passages;
}

function parseLines(source: string): readonly Passage[] {
  const runs: { kind: 'paragraph' | 'quote'; lines: string[] }[] = [];
  for (const line of source.replace(/^\n+|\n+$/g, '').split('\n')) {
    const quoted = /^(?:&gt;|>)\s?/.exec(line);
    const kind = quoted ? 'quote' : 'paragraph';
    const text = quoted ? line.slice(quoted[0].length) : line;
    const last = runs.at(-1);
    if (last?.kind === kind) last.lines.push(text);
    else runs.push({ kind, lines: [text] });
  }
  return runs
    .filter(({ lines }) => lines.some((line) => line !== ''))
    .map(({ kind, lines }) => ({ kind, children: parseInline(lines.join('\n')) }));
}

const SPECIAL = /<([^<>\n]+)>/y;
const CODE = /`([^`\n]+)`/y;
const EMOJI = /:([a-z0-9_+-]+):(?::skin-tone-[2-6]:)?/y;
const URL_IN_TEXT = /https?:\/\/[^\s<>|"]+[^\s<>|".,;:!?)]/y;
const MARKS = [
  { kind: 'bold' as const, pattern: /\*(?![\s*])([^*\n]*?[^*\s])\*(?![\p{L}\p{N}*])/uy },
  { kind: 'italic' as const, pattern: /_(?![\s_])([^_\n]*?[^_\s])_(?![\p{L}\p{N}_])/uy },
  { kind: 'strike' as const, pattern: /~(?![\s~])([^~\n]*?[^~\s])~(?![\p{L}\p{N}~])/uy },
];

interface Found {
  readonly piece: Inline;
  readonly length: number;
}

function parseInline(source: string): readonly Inline[] {
  const pieces: Inline[] = [];
  let plain = '';
  let at = 0;
  function flush(): void {
    if (plain !== '') pieces.push({ kind: 'text', text: decodeEntities(plain) });
    plain = '';
  }
  while (at < source.length) {
    const found = pieceAt(source, at);
    if (found === null) {
      plain += source.charAt(at);
      at += 1;
    } else {
      flush();
      pieces.push(found.piece);
      at += found.length;
    }
  }
  flush();
  return pieces;
}

function match(pattern: RegExp, source: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at;
  return pattern.exec(source);
}

function pieceAt(source: string, at: number): Found | null {
  if (source.charAt(at) === '\n') return { piece: { kind: 'break' }, length: 1 };
  const special = match(SPECIAL, source, at);
  if (special?.[1] !== undefined) return { piece: readSpecial(special[1]), length: special[0].length };
  const code = match(CODE, source, at);
  if (code?.[1] !== undefined) {
    return { piece: { kind: 'code', text: decodeEntities(code[1]) }, length: code[0].length };
  }
  const emoji = match(EMOJI, source, at);
  const picture = emoji?.[1] === undefined ? undefined : emojiFor(emoji[1]);
  if (emoji && picture !== undefined) {
    return { piece: { kind: 'text', text: picture }, length: emoji[0].length };
  }
  if (/[\p{L}\p{N}]/u.test(source.charAt(at - 1))) return null;
  for (const { kind, pattern } of MARKS) {
    const marked = match(pattern, source, at);
    if (marked?.[1] !== undefined) {
      return { piece: { kind, children: parseInline(marked[1]) }, length: marked[0].length };
    }
  }
  const url = match(URL_IN_TEXT, source, at);
  if (url === null) return null;
  const href = decodeEntities(url[0]);
  return { piece: { kind: 'link', href, label: href }, length: url[0].length };
}

/** Reads what stands between angle brackets: a person, a channel, a date, a call to all, or a link. */
function readSpecial(inside: string): Inline {
  const [target = '', ...rest] = inside.split('|');
  const label = rest.length === 0 ? null : decodeEntities(rest.join('|'));
  if (target.startsWith('@')) return { kind: 'person', id: target.slice(1), label };
  if (target.startsWith('#'))
    return { kind: 'channel', id: target.slice(1), label: label === '' ? null : label };
  const date = /^!date\^(-?\d+)\^([^^]+)(?:\^.*)?$/.exec(target);
  if (date?.[1] !== undefined && date[2] !== undefined) {
    return { kind: 'date', unix: Number(date[1]), format: date[2], fallback: label ?? '' };
  }
  if (target.startsWith('!')) {
    return { kind: 'broadcast', name: label ?? target.slice(1).replace(/^subteam\^/, '') };
  }
  const href = decodeEntities(target);
  if (/^(?:https?:\/\/|mailto:|\/local\/)/.test(href)) return { kind: 'link', href, label: label ?? href };
  return { kind: 'text', text: decodeEntities(`<${inside}>`) };
}
