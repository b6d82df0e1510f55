import { describe, expect, test } from 'vitest';
import { checkView } from '../../../src/local/block-kit/check-view.js';
import { type Case, cell, input, plain, sections, x } from './shapes.js';

// The limits are Slack's published ones: docs.slack.dev, reference for blocks, block elements, composition
// objects and views, and the JSDoc of @slack/types 3.2.0.

const modal = (fields: object = {}) => ({
  type: 'modal',
  title: plain(5),
  submit: plain(5),
  blocks: [],
  ...fields,
});

const viewCases: readonly Case[] = [
  ['title', (n) => modal({ title: plain(n) }), 24, '/title/text'],
  ['submit', (n) => modal({ submit: plain(n) }), 24, '/submit/text'],
  ['close', (n) => modal({ close: plain(n) }), 24, '/close/text'],
  ['private metadata', (n) => modal({ private_metadata: x(n) }), 3_000, '/private_metadata'],
  ['callback id', (n) => modal({ callback_id: x(n) }), 255, '/callback_id'],
  ['blocks', (n) => modal({ blocks: sections(n, 5) }), 100, '/blocks'],
  ['blocks of the home tab', (n) => ({ type: 'home', blocks: sections(n, 5) }), 100, '/blocks'],
  [
    'input label',
    (n) => modal({ blocks: [input({ type: 'plain_text_input' }, { label: plain(n) })] }),
    2_000,
    '/blocks/0/label/text',
  ],
  [
    'input hint',
    (n) => modal({ blocks: [input({ type: 'plain_text_input' }, { hint: plain(n) })] }),
    2_000,
    '/blocks/0/hint/text',
  ],
  [
    'input max_length',
    (n) => modal({ blocks: [input({ type: 'plain_text_input', max_length: n })] }),
    3_000,
    '/blocks/0/element/max_length',
  ],
  [
    'input placeholder',
    (n) => modal({ blocks: [input({ type: 'plain_text_input', placeholder: plain(n) })] }),
    150,
    '/blocks/0/element/placeholder/text',
  ],
];

describe('a form', () => {
  test.each(viewCases)('%s passes at the limit and is refused one over', (_what, build, limit, pointer) => {
    expect(checkView(build(limit))).toEqual([]);
    expect(checkView(build(limit + 1))).toContainEqual(
      expect.objectContaining({ error: 'invalid_arguments', pointer: `/view${pointer}` }),
    );
  });

  test('weighs 250 KB at most', () => {
    const heavy = modal({ blocks: sections(90, 2_800) });
    expect(checkView(heavy)).toMatchObject([{ error: 'view_too_large' }]);
  });

  test.each([
    ['no title', { type: 'modal', blocks: [] }],
    [
      'inputs and no submit',
      { type: 'modal', title: plain(5), blocks: [input({ type: 'plain_text_input' })] },
    ],
    ['a table', modal({ blocks: [{ type: 'table', rows: [[cell(1)]] }] })],
    [
      'a least length over the most',
      modal({ blocks: [input({ type: 'plain_text_input', min_length: 5, max_length: 4 })] }),
    ],
    ['nothing at all', undefined],
  ])('is refused with %s', (_what, view) => {
    expect(checkView(view)).not.toEqual([]);
  });
});
