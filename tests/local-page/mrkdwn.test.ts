import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Inline, type Passage, parseMrkdwn } from '../../src/local/page/text/mrkdwn.js';

function only(source: string): readonly Inline[] {
  const [passage, ...rest] = parseMrkdwn(source);
  expect(rest).toEqual([]);
  return passage !== undefined && 'children' in passage ? passage.children : [];
}

/** Everything a reader would see, marks aside. */
function wordsOf(passages: readonly Passage[]): string {
  return passages.map((one) => ('children' in one ? inlineWords(one.children) : one.text)).join('\n');
}

function inlineWords(pieces: readonly Inline[]): string {
  return pieces
    .map((piece) => {
      if ('children' in piece) return inlineWords(piece.children);
      if (piece.kind === 'text' || piece.kind === 'code') return piece.text;
      return piece.kind === 'break' ? '\n' : '';
    })
    .join('');
}

// What mrkdwn means: Slack's reference on formatting text (docs.slack.dev, "Formatting message text").
describe('mrkdwn on the page', () => {
  it('draws bold, italic, struck-out and code', () => {
    expect(only('*lemon* _tea_ ~cocoa~ `T4`')).toEqual([
      { kind: 'bold', children: [{ kind: 'text', text: 'lemon' }] },
      { kind: 'text', text: ' ' },
      { kind: 'italic', children: [{ kind: 'text', text: 'tea' }] },
      { kind: 'text', text: ' ' },
      { kind: 'strike', children: [{ kind: 'text', text: 'cocoa' }] },
      { kind: 'text', text: ' ' },
      { kind: 'code', text: 'T4' },
    ]);
  });

  it('leaves stars and underscores inside words and sums alone', () => {
    expect(only('2*3*4 and kayanza_hill_washed and a * b * c')).toEqual([
      { kind: 'text', text: '2*3*4 and kayanza_hill_washed and a * b * c' },
    ]);
  });

  it('nests a mark in a mark', () => {
    expect(only('*very _lemony_*')).toEqual([
      {
        kind: 'bold',
        children: [
          { kind: 'text', text: 'very ' },
          { kind: 'italic', children: [{ kind: 'text', text: 'lemony' }] },
        ],
      },
    ]);
  });

  it('reads people, channels, calls to all, links and dates', () => {
    expect(
      only('<@U0NOOR> <#C01|tasting-table> <!here> <https://example.org/a?b=1&amp;c=2|the list>'),
    ).toEqual([
      { kind: 'person', id: 'U0NOOR', label: null },
      { kind: 'text', text: ' ' },
      { kind: 'channel', id: 'C01', label: 'tasting-table' },
      { kind: 'text', text: ' ' },
      { kind: 'broadcast', name: 'here' },
      { kind: 'text', text: ' ' },
      { kind: 'link', href: 'https://example.org/a?b=1&c=2', label: 'the list' },
    ]);
    expect(only('<!date^1795788000^{date_short} {time}|Fri 14:00>')).toEqual([
      { kind: 'date', unix: 1795788000, format: '{date_short} {time}', fallback: 'Fri 14:00' },
    ]);
  });

  it('never makes a link of anything that could run', () => {
    expect(only('<javascript:alert(1)|tap me>')).toEqual([
      { kind: 'text', text: '<javascript:alert(1)|tap me>' },
    ]);
    expect(only('<data:text/html,x>')).toEqual([{ kind: 'text', text: '<data:text/html,x>' }]);
  });

  it('decodes entities exactly once', () => {
    expect(only('&amp;lt; &lt;b&gt; `a &amp;&amp; b`')).toEqual([
      { kind: 'text', text: '&lt; <b> ' },
      { kind: 'code', text: 'a && b' },
    ]);
  });

  it('turns known shortcodes into characters, with a skin tone or without, and keeps unknown ones', () => {
    expect(only(':lemon: :+1::skin-tone-4: :no_such_fruit: at 14:05:10')).toEqual([
      { kind: 'text', text: '🍋' },
      { kind: 'text', text: ' ' },
      { kind: 'text', text: '👍' },
      { kind: 'text', text: ' :no_such_fruit: at 14:05:10' },
    ]);
  });

  it('sets quotes and code fences apart from the lines around them', () => {
    expect(
      parseMrkdwn('before\n&gt; quoted\n&gt; twice\nafter\n```\n*as it is*\n```').map((one) => one.kind),
    ).toEqual(['paragraph', 'quote', 'paragraph', 'fence']);
    expect(parseMrkdwn('```\n*as it is*\n```')).toEqual([{ kind: 'fence', text: '*as it is*' }]);
  });

  it('links a bare address without the full stop after it', () => {
    expect(only('see https://example.org/cups.')).toEqual([
      { kind: 'text', text: 'see ' },
      { kind: 'link', href: 'https://example.org/cups', label: 'https://example.org/cups' },
      { kind: 'text', text: '.' },
    ]);
  });

  it('loses no letter of plain words, whatever they are', () => {
    const plain = fc.string({ unit: fc.constantFrom(..."abc éß漢 019.,!?()-+/'".split('')), minLength: 1 });
    fc.assert(
      fc.property(plain, (text) => {
        expect(wordsOf(parseMrkdwn(text))).toBe(text);
      }),
    );
  });

  it('reads any text at all without failing or dwelling on it', () => {
    const marks = fc.string({
      unit: fc.constantFrom('*', '_', '~', '`', '<', '>', '|', ':', '&', '\n', 'a', ' ', '!'),
    });
    fc.assert(
      fc.property(marks, (text) => {
        expect(wordsOf(parseMrkdwn(text)).length).toBeLessThanOrEqual(text.length + 1);
      }),
    );
  });
});
