import type { KnownBlock } from '@slack/types';
import { describe, expect, test } from 'vitest';
import { checkMessage } from '../../../src/local/block-kit/check-message.js';
import { checkView } from '../../../src/local/block-kit/check-view.js';
import { wording } from '../../../src/local/block-kit/problems.js';

// The limits are Slack's published ones: docs.slack.dev, reference for blocks, block elements, composition
// objects and views, and the JSDoc of @slack/types 3.2.0.

const x = (length: number) => 'x'.repeat(length);
const plain = (length: number) => ({ type: 'plain_text', text: x(length) });
const mrkdwn = (length: number) => ({ type: 'mrkdwn', text: x(length) });
const many = <T>(count: number, one: (index: number) => T): T[] =>
  Array.from({ length: count }, (_, index) => one(index));
const option = (index: number, size = 5) => ({ text: plain(size), value: `v${index}` });
const button = (fields: object = {}) => ({ type: 'button', text: plain(5), ...fields });
const actions = (...elements: object[]) => ({ type: 'actions', elements });
const input = (element: object, fields: object = {}) => ({
  type: 'input',
  label: plain(5),
  element,
  ...fields,
});
const select = (fields: object) => actions({ type: 'static_select', ...fields });
const picture = { type: 'image', alt_text: 'a', image_url: 'https://example.org/a.png' };
const rich = (text: string) => ({
  type: 'rich_text',
  elements: [{ type: 'rich_text_section', elements: [{ type: 'text', text }] }],
});
const cell = (length: number) => ({ type: 'raw_text', text: x(length) });
const sections = (count: number, length: number) =>
  many(count, () => ({ type: 'section', text: plain(length) }));

type Case = readonly [what: string, build: (size: number) => object, limit: number, pointer: string];

const oneBlock: readonly Case[] = [
  ['section text', (n) => ({ type: 'section', text: mrkdwn(n) }), 3_000, '/text/text'],
  ['section fields', (n) => ({ type: 'section', fields: many(n, () => plain(5)) }), 10, '/fields'],
  ['section field text', (n) => ({ type: 'section', fields: [plain(n)] }), 2_000, '/fields/0/text'],
  ['header text', (n) => ({ type: 'header', text: plain(n) }), 150, '/text/text'],
  ['context elements', (n) => ({ type: 'context', elements: many(n, () => mrkdwn(5)) }), 10, '/elements'],
  ['context text', (n) => ({ type: 'context', elements: [plain(n)] }), 3_000, '/elements/0/text'],
  ['actions elements', (n) => actions(...many(n, () => button())), 25, '/elements'],
  [
    'context_actions elements',
    (n) => ({
      type: 'context_actions',
      elements: many(n, () => ({ type: 'icon_button', icon: 'trash', text: plain(5) })),
    }),
    5,
    '/elements',
  ],
  ['image alt text', (n) => ({ ...picture, alt_text: x(n) }), 2_000, '/alt_text'],
  ['image title', (n) => ({ ...picture, title: plain(n) }), 2_000, '/title/text'],
  ['image address', (n) => ({ ...picture, image_url: x(n) }), 3_000, '/image_url'],
  ['block id', (n) => ({ type: 'divider', block_id: x(n) }), 255, '/block_id'],
  ['action id', (n) => actions(button({ action_id: x(n) })), 255, '/elements/0/action_id'],
  ['button text', (n) => actions({ type: 'button', text: plain(n) }), 75, '/elements/0/text/text'],
  ['button value', (n) => actions(button({ value: x(n) })), 2_000, '/elements/0/value'],
  ['button address', (n) => actions(button({ url: x(n) })), 3_000, '/elements/0/url'],
  [
    'button label for screen readers',
    (n) => actions(button({ accessibility_label: x(n) })),
    75,
    '/elements/0/accessibility_label',
  ],
  ['select options', (n) => select({ options: many(n, option) }), 100, '/elements/0/options'],
  [
    'select groups',
    (n) => select({ option_groups: many(n, () => ({ label: plain(5), options: [option(1)] })) }),
    100,
    '/elements/0/option_groups',
  ],
  [
    'options in a group',
    (n) => select({ option_groups: [{ label: plain(5), options: many(n, option) }] }),
    100,
    '/elements/0/option_groups/0/options',
  ],
  [
    'group label',
    (n) => select({ option_groups: [{ label: plain(n), options: [option(1)] }] }),
    75,
    '/elements/0/option_groups/0/label/text',
  ],
  ['option text', (n) => select({ options: [option(1, n)] }), 75, '/elements/0/options/0/text/text'],
  [
    'option value',
    (n) => select({ options: [{ text: plain(5), value: x(n) }] }),
    75,
    '/elements/0/options/0/value',
  ],
  [
    'option description',
    (n) => select({ options: [{ ...option(1), description: plain(n) }] }),
    75,
    '/elements/0/options/0/description/text',
  ],
  [
    'select placeholder',
    (n) => select({ options: [option(1)], placeholder: plain(n) }),
    150,
    '/elements/0/placeholder/text',
  ],
  [
    'overflow options',
    (n) => actions({ type: 'overflow', options: many(n, option) }),
    5,
    '/elements/0/options',
  ],
  ['checkboxes', (n) => actions({ type: 'checkboxes', options: many(n, option) }), 10, '/elements/0/options'],
  [
    'radio buttons',
    (n) => actions({ type: 'radio_buttons', options: many(n, option) }),
    10,
    '/elements/0/options',
  ],
  [
    'confirmation title',
    (n) => actions(button({ confirm: { title: plain(n), text: plain(5) } })),
    100,
    '/elements/0/confirm/title/text',
  ],
  [
    'confirmation text',
    (n) => actions(button({ confirm: { text: plain(n) } })),
    300,
    '/elements/0/confirm/text/text',
  ],
  [
    'confirmation button',
    (n) => actions(button({ confirm: { text: plain(5), deny: plain(n) } })),
    30,
    '/elements/0/confirm/deny/text',
  ],
  ['table rows', (n) => ({ type: 'table', rows: many(n, () => [cell(1)]) }), 100, '/rows'],
  ['table cells in a row', (n) => ({ type: 'table', rows: [many(n, () => cell(1))] }), 20, '/rows/0'],
  ['table text', (n) => ({ type: 'table', rows: [[cell(n)]] }), 10_000, '/rows'],
  [
    'data table rows',
    (n) => ({ type: 'data_table', caption: 'c', rows: many(n, () => [cell(1)]) }),
    201,
    '/rows',
  ],
  [
    'data table page',
    (n) => ({ type: 'data_table', caption: 'c', rows: many(2, () => [cell(1)]), page_size: n }),
    100,
    '/page_size',
  ],
  [
    'data table text',
    (n) => ({ type: 'data_table', caption: 'c', rows: [[cell(1)], [cell(n - 1)]] }),
    20_000,
    '/rows',
  ],
  ['markdown text', (n) => ({ type: 'markdown', text: x(n) }), 12_000, '/text'],
  ['card title', (n) => ({ type: 'card', title: mrkdwn(n) }), 150, '/title/text'],
  ['card body', (n) => ({ type: 'card', body: mrkdwn(n) }), 200, '/body/text'],
  ['card buttons', (n) => ({ type: 'card', actions: many(n, () => button()) }), 3, '/actions'],
  [
    'carousel cards',
    (n) => ({ type: 'carousel', elements: many(n, () => ({ type: 'card' })) }),
    10,
    '/elements',
  ],
  [
    'container children',
    (n) => ({ type: 'container', child_blocks: many(n, () => ({ type: 'divider' })) }),
    10,
    '/child_blocks',
  ],
  [
    'plan tasks',
    (n) => ({
      type: 'plan',
      title: 't',
      tasks: many(n, () => ({ type: 'task_card', task_id: 'a', title: 't', status: 'complete' })),
    }),
    50,
    '/tasks',
  ],
];

describe('a message block', () => {
  test.each(oneBlock)('%s passes at the limit and is refused one over', (_what, build, limit, pointer) => {
    expect(checkMessage({ text: 'a', blocks: [build(limit)] })).toEqual([]);
    const problems = checkMessage({ text: 'a', blocks: [build(limit + 1)] });
    expect(problems).toContainEqual(
      expect.objectContaining({ error: 'invalid_blocks', pointer: `/blocks/0${pointer}` }),
    );
  });

  test('names the field as Slack does', () => {
    const [problem] = checkMessage({ text: 'a', blocks: [actions({ type: 'button', text: plain(76) })] });
    expect(problem && wording(problem)).toBe(
      '[ERROR] must be less than 76 characters [json-pointer:/blocks/0/elements/0/text/text]',
    );
  });

  test.each([
    ['empty text', { type: 'section', text: plain(0) }],
    ['an empty section', { type: 'section' }],
    ['an unknown type', { type: 'ticker', text: plain(5) }],
    ['an unknown property', { type: 'divider', colour: 'red' }],
    ['mrkdwn in a header', { type: 'header', text: mrkdwn(5) }],
    ['mrkdwn on a button', actions({ type: 'button', text: mrkdwn(5) })],
    ['a select with no options', select({ options: [] })],
    [
      'a select with options and groups',
      select({ options: [option(1)], option_groups: [{ label: plain(5), options: [option(2)] }] }),
    ],
    ['an initial option that is no option', select({ options: [option(1)], initial_option: option(2) })],
    ['a picture with no source', { type: 'image', alt_text: 'a' }],
    ['a picture with no alt text', { type: 'image', image_url: 'https://example.org/a.png' }],
    ['an empty table cell', { type: 'table', rows: [[cell(0)]] }],
    [
      'a data table with unequal rows',
      { type: 'data_table', caption: 'c', rows: [[cell(1)], [cell(1), cell(1)]] },
    ],
    ['a data table with a rich header', { type: 'data_table', caption: 'c', rows: [[rich('a')], [cell(1)]] }],
    ['an alert, which is for forms', { type: 'alert', text: plain(5) }],
    ['a chart, whose shape is not published', { type: 'data_visualization', title: 'a' }],
    ['a text input among actions', actions({ type: 'plain_text_input' })],
    ['a bad date', actions({ type: 'datepicker', initial_date: '1.2.2027' })],
    ['an instant that is not ten digits', actions({ type: 'datetimepicker', initial_date_time: 5 })],
  ])('is refused with %s', (_what, block) => {
    const [problem] = checkMessage({ text: 'a', blocks: [block] });
    expect(problem).toMatchObject({ error: 'invalid_blocks' });
    expect(problem?.pointer).toMatch(/^\/blocks\/0/);
  });

  test('accepts what the published types allow', () => {
    const blocks: KnownBlock[] = [
      { type: 'header', text: { type: 'plain_text', text: 'Harbour Lamp', emoji: true } },
      {
        type: 'section',
        text: { type: 'mrkdwn', text: '*A* · 50/30/20', verbatim: true },
        accessory: {
          type: 'button',
          text: { type: 'plain_text', text: 'Note' },
          action_id: 'note',
          value: '1',
        },
      },
      { type: 'context', elements: [{ type: 'image', alt_text: 'cup', slack_file: { id: 'F1' } }] },
      { type: 'image', alt_text: 'tally', slack_file: { url: 'https://example.org/f' } },
      {
        type: 'actions',
        elements: [
          { type: 'datepicker', action_id: 'day', initial_date: '2026-11-26' },
          { type: 'users_select', action_id: 'who', initial_user: 'U1' },
          { type: 'timepicker', action_id: 'time', initial_time: '14:00', timezone: 'Europe/Lisbon' },
        ],
      },
      { type: 'divider' },
      {
        type: 'table',
        rows: [
          [
            { type: 'raw_text', text: 'cup' },
            { type: 'raw_number', value: 7, text: '7' },
          ],
        ],
        column_settings: [{ align: 'left', is_wrapped: true }],
      },
    ];
    expect(checkMessage({ text: 'a', blocks })).toEqual([]);
  });
});

describe('a whole message', () => {
  test('holds 50 blocks and no more', () => {
    expect(checkMessage({ text: 'a', blocks: sections(50, 5) })).toEqual([]);
    expect(checkMessage({ text: 'a', blocks: sections(51, 5) })).toEqual([
      { error: 'invalid_blocks', pointer: '/blocks', message: 'no more than 50 items allowed' },
    ]);
  });

  test('needs something to show', () => {
    expect(checkMessage({ text: '  ' })).toMatchObject([{ error: 'no_text' }]);
    expect(checkMessage({ blocks: [] })).toMatchObject([{ error: 'no_text' }]);
    expect(checkMessage({ blocks: sections(1, 5) })).toEqual([]);
  });

  test('may be long when posted and 4,000 characters when updated', () => {
    expect(checkMessage({ text: x(40_001) }, 'post')).toEqual([]);
    expect(checkMessage({ text: x(4_000) }, 'update')).toEqual([]);
    expect(checkMessage({ text: x(4_001) }, 'update')).toMatchObject([{ error: 'msg_too_long' }]);
  });

  // The number is from memory: Slack publishes the error and not the limit.
  test('holds 13,000 characters in its blocks together', () => {
    expect(checkMessage({ text: 'a', blocks: sections(5, 2_600) })).toEqual([]);
    expect(checkMessage({ text: 'a', blocks: [...sections(5, 2_600), ...sections(1, 1)] })).toMatchObject([
      { error: 'msg_blocks_too_long' },
    ]);
  });

  test('has each block id once, and each action id once in a block', () => {
    const twice = [
      { type: 'divider', block_id: 'a' },
      { type: 'divider', block_id: 'a' },
    ];
    expect(checkMessage({ text: 'a', blocks: twice })).toMatchObject([{ pointer: '/blocks/1/block_id' }]);
    const same = actions(button({ action_id: 'a' }), button({ action_id: 'a' }));
    expect(checkMessage({ text: 'a', blocks: [same] })).toMatchObject([{ pointer: '/blocks/0' }]);
    const apart = [actions(button({ action_id: 'a' })), actions(button({ action_id: 'a' }))];
    expect(checkMessage({ text: 'a', blocks: apart })).toEqual([]);
  });

  test('has one table, and 12,000 characters of markdown over all blocks', () => {
    const table = { type: 'table', rows: [[cell(1)]] };
    expect(checkMessage({ text: 'a', blocks: [table, table] })).toMatchObject([
      { message: 'only one table allowed' },
    ]);
    const half = { type: 'markdown', text: x(6_000) };
    expect(checkMessage({ text: 'a', blocks: [half, half] })).toEqual([]);
    expect(checkMessage({ text: 'a', blocks: [half, half, { type: 'markdown', text: 'x' }] })).toHaveLength(
      1,
    );
  });

  test('has blocks as a list, and markdown_text alone', () => {
    expect(checkMessage({ text: 'a', blocks: '[' })).toMatchObject([{ error: 'invalid_blocks_format' }]);
    expect(checkMessage({ markdown_text: x(12_000) })).toEqual([]);
    expect(checkMessage({ markdown_text: x(12_001) })).toMatchObject([{ error: 'msg_too_long' }]);
    expect(checkMessage({ markdown_text: 'a', text: 'a' })).toMatchObject([
      { error: 'markdown_text_conflict' },
    ]);
  });

  test('carries metadata with both parts, not without bound', () => {
    const metadata = (note: string) => ({ event_type: 'notice', event_payload: { note } });
    expect(checkMessage({ text: 'a', metadata: metadata('a') })).toEqual([]);
    expect(checkMessage({ text: 'a', metadata: { event_type: 'notice' } })).toMatchObject([
      { error: 'invalid_metadata_schema', pointer: '/metadata/event_payload' },
    ]);
    expect(checkMessage({ text: 'a', metadata: metadata(x(16_001)) })).toMatchObject([
      { error: 'metadata_too_large' },
    ]);
  });
});

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
  ['external id', (n) => modal({ external_id: x(n) }), 255, '/external_id'],
  ['blocks', (n) => modal({ blocks: sections(n, 5) }), 100, '/blocks'],
  ['blocks of the home tab', (n) => ({ type: 'home', blocks: sections(n, 5) }), 100, '/blocks'],
  ['alert text', (n) => modal({ blocks: [{ type: 'alert', text: plain(n) }] }), 200, '/blocks/0/text/text'],
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
  [
    'files of a file input',
    (n) => modal({ blocks: [input({ type: 'file_input', max_files: n })] }),
    10,
    '/blocks/0/element/max_files',
  ],
  [
    'lines of a rich text input',
    (n) => modal({ blocks: [input({ type: 'rich_text_input', max_lines: n })] }),
    100,
    '/blocks/0/element/max_lines',
  ],
  [
    'video title',
    (n) =>
      modal({
        blocks: [{ type: 'video', video_url: 'v', thumbnail_url: 't', alt_text: 'a', title: plain(n) }],
      }),
    200,
    '/blocks/0/title/text',
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
    ['markdown', modal({ blocks: [{ type: 'markdown', text: 'a' }] })],
    [
      'two focused fields',
      modal({ blocks: many(2, () => input({ type: 'plain_text_input', focus_on_load: true })) }),
    ],
    [
      'a number input that does not say whether decimals may be',
      modal({ blocks: [input({ type: 'number_input' })] }),
    ],
    [
      'a least length over the most',
      modal({ blocks: [input({ type: 'plain_text_input', min_length: 5, max_length: 4 })] }),
    ],
    ['nothing at all', undefined],
  ])('is refused with %s', (_what, view) => {
    expect(checkView(view)).not.toEqual([]);
  });
});
