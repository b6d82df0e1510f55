import type { KnownBlock } from '@slack/types';
import { describe, expect, test } from 'vitest';
import { checkMessage } from '../../../src/local/block-kit/check-message.js';
import { wording } from '../../../src/local/block-kit/problems.js';
import { oneBlock } from './block-cases.js';
import { actions, button, cell, mrkdwn, option, plain, rich, sections, select, x } from './shapes.js';

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
    ['a kind of block that no bot of this kind sends', { type: 'alert', text: plain(5) }],
    ['a text input among actions', actions({ type: 'plain_text_input' })],
    ['a bad date', actions({ type: 'datepicker', initial_date: '1.2.2027' })],
  ])('is refused with %s', (_what, block) => {
    const [problem] = checkMessage({ text: 'a', blocks: [block] });
    expect(problem).toMatchObject({ error: 'invalid_blocks' });
    expect(problem?.pointer).toMatch(/^\/blocks\/0/);
  });

  test('may hold rich text in the cells of a table, counted with the rest', () => {
    const table = (length: number) => ({ type: 'table', rows: [[rich(x(length))]] });
    expect(checkMessage({ text: 'a', blocks: [table(9_000)] })).toEqual([]);
    expect(checkMessage({ text: 'a', blocks: [table(10_000)] })).toMatchObject([
      { error: 'invalid_blocks', pointer: '/blocks/0/rows' },
    ]);
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
      { type: 'image', alt_text: 'tally', slack_file: { id: 'F2' } },
      {
        type: 'actions',
        elements: [
          { type: 'datepicker', action_id: 'day', initial_date: '2026-11-26' },
          { type: 'users_select', action_id: 'who', initial_user: 'U1' },
          { type: 'timepicker', action_id: 'time', initial_time: '14:00' },
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

  test('has one table', () => {
    const table = { type: 'table', rows: [[cell(1)]] };
    expect(checkMessage({ text: 'a', blocks: [table, table] })).toMatchObject([
      { message: 'only one table allowed' },
    ]);
  });

  test('has blocks as a list', () => {
    expect(checkMessage({ text: 'a', blocks: '[' })).toMatchObject([{ error: 'invalid_blocks_format' }]);
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
