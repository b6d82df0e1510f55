import { expect, test } from 'vitest';
import { startRecorder } from './recording-bot.js';
import { ids, openWorkspace } from './workbench.js';

const plain = (text: string) => ({ type: 'plain_text', text }) as const;
const option = (value: string) => ({ text: plain(value.toUpperCase()), value });

/** A message with one of each thing that can be tapped. */
async function withCard() {
  const { workspace, people, slack } = await openWorkspace();
  const bot = await startRecorder(workspace);
  const { ts = '' } = await slack.chat.postMessage({
    channel: ids.channel,
    text: 'card',
    metadata: { event_type: 'notice', event_payload: { key: 'k' } },
    blocks: [
      {
        type: 'section',
        block_id: 'top',
        text: plain('Cup A'),
        accessory: { type: 'button', action_id: 'more', text: plain('More'), value: 'A' },
      },
      {
        type: 'actions',
        block_id: 'row',
        elements: [
          { type: 'button', action_id: 'note', text: plain('Note'), value: 'T1' },
          { type: 'static_select', action_id: 'cup', options: [option('a'), option('b')] },
          { type: 'multi_users_select', action_id: 'who' },
          { type: 'datepicker', action_id: 'day', initial_date: '2026-11-26' },
        ],
      },
    ],
  });
  const message = { channel: ids.channel, ts };
  const tap = (action: object) => people.tap({ as: ids.noor, message, action });
  return { workspace, people, slack, bot, message, tap, last: () => bot.received.at(-1)?.body };
}

test('a button tells who, where, which message and what it was worth', async () => {
  const { workspace, tap, last, message } = await withCard();
  expect(await tap({ actionId: 'note' })).toEqual({ ok: true, status: 200 });
  expect(last()).toMatchObject({
    type: 'block_actions',
    team: { id: workspace.teamId, domain: 'fernhollow' },
    user: { id: ids.noor, username: 'noor' },
    container: { type: 'message', message_ts: message.ts, channel_id: ids.channel, is_ephemeral: false },
    channel: { id: ids.channel, name: 'tasting-table' },
    message: { ts: message.ts, bot_id: workspace.botId, text: 'card' },
    trigger_id: expect.any(String),
    response_url: expect.stringMatching(/^http:\/\/127\.0\.0\.1:\d+\/response\//),
    actions: [
      { type: 'button', action_id: 'note', block_id: 'row', value: 'T1', action_ts: expect.any(String) },
    ],
  });
});

test('what was picked comes with the tap and stays picked', async () => {
  const { tap, last } = await withCard();
  await tap({ actionId: 'cup', selected: 'b' });
  expect(last()?.['actions']).toMatchObject([
    { type: 'static_select', selected_option: { value: 'b', text: { text: 'B' } } },
  ]);
  await tap({ actionId: 'who', selected: [ids.teo, ids.bram] });
  expect(last()?.['actions']).toMatchObject([{ selected_users: [ids.teo, ids.bram] }]);
  await tap({ actionId: 'note' });
  expect(last()?.['state']).toEqual({
    values: {
      row: {
        cup: { type: 'static_select', selected_option: expect.objectContaining({ value: 'b' }) },
        who: { type: 'multi_users_select', selected_users: [ids.teo, ids.bram] },
        day: { type: 'datepicker', selected_date: '2026-11-26' },
      },
    },
  });
});

test('a button beside a text tells the block that it stands in', async () => {
  const { tap, last } = await withCard();
  await tap({ actionId: 'more' });
  expect(last()?.['actions']).toMatchObject([{ type: 'button', block_id: 'top', value: 'A' }]);
});

test('what is not there cannot be tapped', async () => {
  const { people, message, bot } = await withCard();
  const refused = (action: object, where: object = { message }) =>
    people.refused('/local/tap', { as: ids.noor, action, ...where });
  expect(await refused({ actionId: 'ghost' })).toMatchObject({ error: 'element_not_found' });
  expect(await refused({ actionId: 'note', blockId: 'top' })).toMatchObject({ error: 'element_not_found' });
  expect(await refused({ actionId: 'cup', selected: 'z' })).toMatchObject({ error: 'option_not_found' });
  expect(await refused({ actionId: 'note' }, {})).toMatchObject({ error: 'no_place' });
  expect(await refused({ actionId: 'note' }, { view: { id: 'V404' } })).toMatchObject({
    error: 'view_not_found',
  });
  expect(bot.received.filter((one) => one.body['type'] === 'block_actions')).toEqual([]);
});

test('a tap that the bot does not acknowledge says so', async () => {
  const { workspace, people, slack } = await openWorkspace({ ackTimeoutMs: 150 });
  await startRecorder(workspace, () => ({ afterMs: 300 }));
  const { ts = '' } = await slack.chat.postMessage({
    channel: ids.channel,
    text: 'a',
    blocks: [{ type: 'actions', elements: [{ type: 'button', action_id: 'go', text: plain('Go') }] }],
  });
  const answer = await people.tap({
    as: ids.noor,
    message: { channel: ids.channel, ts },
    action: { actionId: 'go' },
  });
  expect(answer).toEqual({ ok: false, status: 0, error: 'operation_timeout' });
});

test('a message shortcut tells the message, and none is offered on what one person sees', async () => {
  const { people, slack, message, last } = await withCard();
  await people.shortcut({ as: ids.noor, callbackId: 'take_note', message });
  expect(last()).toMatchObject({
    type: 'message_action',
    callback_id: 'take_note',
    message_ts: message.ts,
    message: { text: 'card' },
    channel: { id: ids.channel },
  });
  await people.shortcut({ as: ids.noor, callbackId: 'next' });
  expect(last()).toMatchObject({ type: 'shortcut', callback_id: 'next' });
  expect(last()).not.toHaveProperty('response_url');
  const { message_ts } = await slack.chat.postEphemeral({
    channel: ids.channel,
    user: ids.noor,
    text: 'psst',
  });
  const place = { channel: ids.channel, ts: message_ts };
  expect(
    await people.refused('/local/shortcut', { as: ids.noor, callbackId: 'a', message: place }),
  ).toMatchObject({
    error: 'ephemeral_message',
  });
});

test('a command carries Slack’s fields', async () => {
  const { workspace, people, last } = await withCard();
  await people.command({ as: ids.ines, channel: ids.channel, text: '/spoon words "cane & sugar" @noor' });
  expect(last()).toEqual({
    token: expect.any(String),
    team_id: workspace.teamId,
    team_domain: 'fernhollow',
    channel_id: ids.channel,
    channel_name: 'tasting-table',
    user_id: ids.ines,
    user_name: 'ines',
    command: '/spoon',
    text: `words "cane &amp; sugar" <@${ids.noor}|noor>`,
    api_app_id: 'ATALLYSPOON',
    is_enterprise_install: 'false',
    response_url: expect.any(String),
    trigger_id: expect.any(String),
  });
  const dm = await people.dm(ids.ines);
  await people.command({ as: ids.ines, channel: dm.id, text: '/spoon' });
  expect(last()).toMatchObject({ channel_name: 'directmessage', text: '' });
});

test('without should_escape a command comes as typed', async () => {
  const { workspace, people } = await openWorkspace({ shouldEscape: false });
  const bot = await startRecorder(workspace);
  await people.command({
    as: ids.ines,
    channel: ids.channel,
    text: '/spoon book with @noor & #tasting-table',
  });
  expect(bot.received[0]?.body['text']).toBe('book with @noor & #tasting-table');
});

test('no command is taken in a thread, nor one that nobody registered', async () => {
  const { people, message, bot } = await withCard();
  const run = (text: string, more: object = {}) =>
    people.command({ as: ids.ines, channel: ids.channel, text, ...more });
  expect(await run('/spoon', { thread: message.ts })).toEqual({
    ok: false,
    status: 0,
    error: 'commands_not_in_threads',
  });
  expect(await run('/ladle')).toEqual({ ok: false, status: 0, error: 'unknown_command' });
  expect(bot.received.filter((one) => one.body['command'] !== undefined)).toEqual([]);
});

test('an answer to a command that does not fit is not shown', async () => {
  const { workspace, people } = await openWorkspace();
  await startRecorder(workspace, () => ({
    body: { text: 'a', blocks: [{ type: 'header', text: plain('x'.repeat(151)) }] },
  }));
  const answer = await people.command({ as: ids.ines, channel: ids.channel, text: '/spoon' });
  expect(answer).toMatchObject({ ok: false, status: 200, error: 'invalid_command_response: invalid_blocks' });
  expect(await people.messages(ids.ines, ids.channel)).toEqual([]);
});
