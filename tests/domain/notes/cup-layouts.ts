import type { CupName } from '../../../src/domain/notes/cup-reference.js';

/** One cup's part of a message: the cup and the words said of it. */
export type Part = { readonly cup: CupName; readonly words: readonly string[] };

/** A way to write several cups into one message. */
export type Layout = {
  readonly name: string;
  readonly blind: boolean;
  readonly write: (parts: readonly Part[]) => string;
};

function layout(name: string, write: Layout['write'], blind = false): Layout {
  return { name, blind, write };
}

function each(parts: readonly Part[], write: (part: Part) => string, between: string): string {
  return parts.map(write).join(between);
}

const PLACES = ['first', 'second', 'third', 'fourth', 'fifth'];

/** How tasters name cups and what they say of them, one layout each. */
export const LAYOUTS: readonly Layout[] = [
  layout('label and colon, sentences', (p) =>
    each(p, ({ cup, words }) => `${cup.label}: ${words.join(', ')}.`, ' '),
  ),
  layout('label and colon, lines', (p) =>
    each(p, ({ cup, words }) => `${cup.label}: ${words.join(', ')}`, '\n'),
  ),
  layout('small label and dash, lines', (p) =>
    each(p, ({ cup, words }) => `${cup.label.toLowerCase()} - ${words.join(', ')}`, '\n'),
  ),
  layout('label as heading, words below', (p) =>
    each(p, ({ cup, words }) => `${cup.label}\n${words.join('\n')}`, '\n\n'),
  ),
  layout('bold heading and bullets', (p) =>
    each(p, ({ cup, words }) => `*${cup.label}*\n${words.map((w) => `• ${w}`).join('\n')}`, '\n'),
  ),
  layout('numbered list of cups', (p) =>
    p.map(({ cup, words }, i) => `${i + 1}. ${cup.label}: ${words.join(', ')}`).join('\n'),
  ),
  layout('bracketed label', (p) => each(p, ({ cup, words }) => `(${cup.label}) ${words.join(', ')}`, ' ')),
  layout('square brackets', (p) => each(p, ({ cup, words }) => `[${cup.label}] ${words.join(', ')}`, '\n')),
  layout('label and bracket', (p) => each(p, ({ cup, words }) => `${cup.label}) ${words.join(', ')}`, ' ')),
  layout('arrow', (p) => each(p, ({ cup, words }) => `${cup.label} → ${words.join(', ')}`, '\n')),
  layout('equals sign', (p) => each(p, ({ cup, words }) => `${cup.label} = ${words.join(' + ')}`, ', ')),
  layout('pipes', (p) => each(p, ({ cup, words }) => `${cup.label} | ${words.join(', ')}`, '\n')),
  layout('the word cup, semicolons', (p) =>
    each(p, ({ cup, words }) => `cup ${cup.label}: ${words.join(', ')}`, '; '),
  ),
  layout('cup, no punctuation', (p) =>
    each(p, ({ cup, words }) => `Cup ${cup.label} ${words.join(' and ')}`, ' '),
  ),
  layout('run-on with is', (p) =>
    each(p, ({ cup, words }) => `${cup.label} is ${words.join(' and ')}`, ', '),
  ),
  layout('run-on with tastes of', (p) =>
    each(p, ({ cup, words }) => `${cup.label} tastes of ${words.join(' and ')}`, ' and '),
  ),
  layout('in front, for', (p) =>
    each(p, ({ cup, words }) => `For ${cup.label} I get ${words.join(', ')}.`, ' '),
  ),
  layout('in front, in', (p) =>
    each(p, ({ cup, words }) => `In ${cup.label} there is ${words.join(' and ')}`, ', '),
  ),
  layout('behind, in', (p) => each(p, ({ cup, words }) => `${words.join(' and ')} in ${cup.label}`, ', ')),
  layout('behind, in brackets', (p) =>
    each(p, ({ cup, words }) => `${words.join(', ')} (${cup.label})`, '; '),
  ),
  layout('behind, for cup', (p) =>
    each(p, ({ cup, words }) => `${words.join(' and ')} for cup ${cup.label}`, '. '),
  ),
  layout('possessive', (p) => each(p, ({ cup, words }) => `${cup.label}'s got ${words.join(', ')}`, '. ')),
  layout('places in the row', (p) =>
    each(p, ({ cup, words }) => `${PLACES['ABCDE'.indexOf(cup.label)]} cup: ${words.join(', ')}`, '. '),
  ),
  layout('coffee names', (p) => each(p, ({ cup, words }) => `${cup.name}: ${words.join(', ')}`, '\n')),
  layout('codes, lines', (p) => each(p, ({ cup, words }) => `${cup.code}: ${words.join(', ')}`, '\n'), true),
  layout(
    'codes, slashes',
    (p) => each(p, ({ cup, words }) => `${cup.code} ${words.join(', ')}`, ' / '),
    true,
  ),
  layout(
    'hash and code',
    (p) => each(p, ({ cup, words }) => `#${cup.code} is ${words.join(' and ')}`, '. '),
    true,
  ),
];
