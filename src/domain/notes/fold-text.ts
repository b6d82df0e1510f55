/**
 * Text folded for reading: lower case, compatibility forms decomposed, accents and invisible characters
 * dropped, typographic quotes and dashes plain. `at[i]` is where folded character i begins in the source
 * (null when all of it is ASCII and the two run in step), so every span can be given in the source's own offsets.
 */
export type FoldedText = { readonly text: string; readonly at: readonly number[] | null };

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
