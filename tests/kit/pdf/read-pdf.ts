import { inflateSync } from 'node:zlib';

/*
 * Reads a PDF back as the standard has it (ISO 32000-1: objects, streams, pages, Tf, TJ, ToUnicode), as far as
 * our own sheets go: embedded fonts with two-byte glyphs. What it does not understand it refuses.
 */

export type PdfPage = { readonly text: string; readonly width: number; readonly height: number };
export type Pdf = { readonly pages: readonly PdfPage[]; readonly info: Readonly<Record<string, string>> };

/** The text of each page as a reader finds it, pieces joined by spaces. */
export function pdfPages(bytes: Buffer): readonly string[] {
  return readPdf(bytes).pages.map(({ text }) => text);
}

/**
 * @throws Error when a part is missing, or a glyph has no letter
 */
export function readPdf(bytes: Buffer): Pdf {
  const file = bytes.toString('latin1');
  const objects = new Map<string, string>();
  for (const [, id = '', body = ''] of file.matchAll(/^(\d+) 0 obj\n([\s\S]*?)\nendobj/gmu))
    objects.set(id, body);
  const object = (id: string) => objects.get(id) ?? fail(`no object ${id}`);
  const trailer = file.slice(file.lastIndexOf('trailer'));
  const tree = object(reference(object(reference(trailer, 'Root')), 'Pages'));
  const kids = references(captured(tree, /\/Kids \[([^\]]*)\]/u));
  return {
    pages: kids.map((id) => readPage(object(id), object)),
    info: readInfo(object(reference(trailer, 'Info')), object),
  };
}

type ObjectOf = (id: string) => string;

function readPage(page: string, object: ObjectOf): PdfPage {
  const [, , width = 0, height = 0] = captured(page, /\/MediaBox \[([^\]]*)\]/u)
    .split(' ')
    .map(Number);
  const resources = object(reference(page, 'Resources'));
  const fonts = new Map(
    [...captured(resources, /\/Font <<([^>]*)>>/u).matchAll(/\/(\w+) (\d+) 0 R/gu)].map(
      ([, name = '', id = '']) => [name, lettersOf(object(reference(object(id), 'ToUnicode')))],
    ),
  );
  let letters: ReadonlyMap<string, string> = new Map();
  const pieces: string[] = [];
  for (const [, font, shown = ''] of content(object(reference(page, 'Contents'))).matchAll(
    /\/(\w+) [\d.]+ Tf|\[([^\]]*)\] TJ/gu,
  )) {
    if (font !== undefined) letters = fonts.get(font) ?? fail(`no font ${font}`);
    else pieces.push(decoded(shown, letters));
  }
  return { text: pieces.join(' ').replace(/\s+/gu, ' '), width, height };
}

/** What a TJ shows: glyphs in angle brackets, and numbers that move the next ones closer. */
function decoded(shown: string, letters: ReadonlyMap<string, string>): string {
  const glyphs = [...shown.matchAll(/<([0-9a-f]*)>/gu)].flatMap(([, hex = '']) => hex.match(/.{4}/gu) ?? []);
  return glyphs.map((glyph) => letters.get(glyph) ?? fail(`glyph ${glyph} has no letter`)).join('');
}

/** Letters by glyph, from a ToUnicode map: ranges that list the UTF-16 of each glyph. */
function lettersOf(map: string): ReadonlyMap<string, string> {
  const letters = new Map<string, string>();
  for (const [, first = '', , list = ''] of content(map).matchAll(
    /<([0-9a-f]{4})> <([0-9a-f]{4})> \[([^\]]*)\]/gu,
  )) {
    for (const [index, [, hex = '']] of [...list.matchAll(/<([0-9a-f ]*)>/gu)].entries()) {
      const utf16 = Buffer.from(hex.replaceAll(' ', ''), 'hex').swap16().toString('utf16le');
      letters.set((Number.parseInt(first, 16) + index).toString(16).padStart(4, '0'), utf16);
    }
  }
  return letters;
}

function readInfo(info: string, object: ObjectOf): Record<string, string> {
  return Object.fromEntries(
    [...info.matchAll(/\/(\w+) (\d+) 0 R/gu)].map(([, key = '', id = '']) => [
      key,
      captured(object(id), /^\((.*)\)$/u),
    ]),
  );
}

/** The bytes of a stream, inflated when they are deflated. */
function content(object: string): string {
  const begin = object.indexOf('stream\n');
  if (begin < 0) fail('no stream');
  const raw = Buffer.from(object.slice(begin + 'stream\n'.length), 'latin1');
  return (object.slice(0, begin).includes('/FlateDecode') ? inflateSync(raw) : raw).toString('latin1');
}

function reference(object: string, key: string): string {
  return captured(object, new RegExp(`/${key} (\\d+) 0 R`, 'u'));
}

function references(list: string): string[] {
  return [...list.matchAll(/(\d+) 0 R/gu)].map(([, id = '']) => id);
}

function captured(text: string, pattern: RegExp): string {
  return pattern.exec(text)?.[1] ?? fail(`nothing like ${pattern}`);
}

function fail(what: string): never {
  throw new Error(`not a PDF of ours: ${what}`);
}
