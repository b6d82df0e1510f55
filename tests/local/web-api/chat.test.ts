import { expect, test } from 'vitest';
import { startRecorder } from '../recording-bot.js';
import { ids, openWorkspace } from '../workbench.js';

const section = (text: string) => ({ type: 'section', text: { type: 'mrkdwn', text } }) as const;
const refusedWith = (error: string) => ({ data: { ok: false, error } });

test('a post is shown, with the ids and defaults that Slack fills in', async () => {
  const { workspace, people, slack } = await openWorkspace();
  const posted = await slack.chat.postMessage({
    channel: ids.channel,
    text: 'Table T1',
    blocks: [section('*T1*')],
  });
  expect(posted).toMatchObject({
    ok: true,
    channel: ids.channel,
    message: { type: 'message', bot_id: workspace.botId },
  });
  const [shown] = await people.messages(ids.noor, ids.channel);
  expect(shown).toMatchObject({ ts: posted.ts, text: 'Table T1', user: workspace.botUserId, edited: false });
  expect(shown?.blocks).toMatchObject([
    {
      type: 'section',
      block_id: expect.stringMatching(/^.{5}$/),
      text: { type: 'mrkdwn', text: '*T1*', verbatim: false },
    },
  ]);
});

test('a post to a person opens direct messages and answers their id', async () => {
  const { people, slack } = await openWorkspace();
  const posted = await slack.chat.postMessage({ channel: ids.bram, text: 'A roast ask' });
  const dm = await people.dm(ids.bram);
  expect(posted.channel).toBe(dm.id);
  expect(dm).toMatchObject({ kind: 'im', with: ids.bram });
  expect(await people.messages(ids.bram, dm.id)).toMatchObject([{ text: 'A roast ask' }]);
  expect(await people.refused(`/local/messages?as=${ids.noor}&channel=${dm.id}`)).toEqual({
    status: 404,
    error: 'channel_not_found',
  });
});

test('replies go under a parent, not under a reply, and may be shown in the channel too', async () => {
  const { people, slack } = await openWorkspace();
  const parent = await slack.chat.postMessage({ channel: ids.channel, text: 'Cup A' });
  const thread_ts = parent.ts ?? '';
  const reply = await slack.chat.postMessage({ channel: ids.channel, text: 'noted', thread_ts });
  await slack.chat.postMessage({ channel: ids.channel, text: 'all read', thread_ts, reply_broadcast: true });
  const top = await people.messages(ids.noor, ids.channel);
  expect(top.map((message) => message.text)).toEqual(['Cup A', 'all read']);
  expect(top[0]).toMatchObject({ replyCount: 2 });
  await expect(
    slack.chat.postMessage({ channel: ids.channel, text: 'deeper', thread_ts: reply.ts ?? '' }),
  ).rejects.toMatchObject(refusedWith('cannot_reply_to_message'));
  await expect(
    slack.chat.postMessage({ channel: ids.channel, text: 'lost', thread_ts: '1.000000' }),
  ).rejects.toMatchObject(refusedWith('thread_not_found'));
});

test('a post where the bot may not write is refused in Slack’s words', async () => {
  const { workspace, people, slack } = await openWorkspace();
  const post = (channel: string) => slack.chat.postMessage({ channel, text: 'a' });
  await expect(post('C404')).rejects.toMatchObject(refusedWith('channel_not_found'));
  await expect(post('U404')).rejects.toMatchObject(refusedWith('channel_not_found'));
  await people.post('channels', { name: 'office', kind: 'channel', members: [ids.ines] });
  await expect(post('C000OFFICE')).rejects.toMatchObject(refusedWith('not_in_channel'));
  await people.post('channels', { name: 'back-room', kind: 'private', members: [ids.ines] });
  await expect(post('C0BACKROOM')).rejects.toMatchObject(refusedWith('channel_not_found'));
  await people.post(`channels/${ids.channel}`, { archived: true });
  await expect(post(ids.channel)).rejects.toMatchObject(refusedWith('is_archived'));
  await people.post(`channels/${ids.channel}`, { archived: false, removeMember: workspace.botUserId });
  await expect(post(ids.channel)).rejects.toMatchObject(refusedWith('not_in_channel'));
  await people.post(`people/${ids.bram}`, { deleted: true });
  await expect(post(ids.bram)).rejects.toMatchObject(refusedWith('channel_not_found'));
});

test('a payload over a limit is refused with the field named', async () => {
  const { slack } = await openWorkspace();
  await expect(
    slack.chat.postMessage({ channel: ids.channel, text: 'a', blocks: [section('x'.repeat(3_001))] }),
  ).rejects.toMatchObject({
    data: {
      error: 'invalid_blocks',
      response_metadata: {
        messages: ['[ERROR] must be less than 3001 characters [json-pointer:/blocks/0/text/text]'],
      },
    },
  });
  await expect(slack.chat.postMessage({ channel: ids.channel, text: '' })).rejects.toMatchObject(
    refusedWith('no_text'),
  );
  await expect(
    slack.apiCall('chat.postMessage', { channel: ids.channel, blocks: 'not json' }),
  ).rejects.toMatchObject(refusedWith('invalid_blocks_format'));
});

test('text over 40,000 characters is cut', async () => {
  const { people, slack } = await openWorkspace();
  await slack.chat.postMessage({ channel: ids.channel, text: 'x'.repeat(40_001) });
  const [shown] = await people.messages(ids.noor, ids.channel);
  expect(shown?.text).toHaveLength(40_000);
});

test('an update by text alone takes the blocks away and marks the message edited', async () => {
  const { people, slack } = await openWorkspace();
  const posted = await slack.chat.postMessage({ channel: ids.channel, text: 'a', blocks: [section('a')] });
  const place = { channel: ids.channel, ts: posted.ts ?? '' };
  await slack.chat.update({ ...place, text: 'b', blocks: [section('b')] });
  expect((await people.messages(ids.noor, ids.channel))[0]).toMatchObject({ text: 'b', edited: false });
  await slack.chat.update({ ...place, text: 'c' });
  expect((await people.messages(ids.noor, ids.channel))[0]).toMatchObject({
    text: 'c',
    blocks: [],
    edited: true,
  });
});

test('metadata is kept over updates until an empty object takes it away, and people never see it', async () => {
  const { workspace, people, slack } = await openWorkspace();
  const metadata = { event_type: 'notice', event_payload: { key: 'table:T1' } };
  const posted = await slack.chat.postMessage({ channel: ids.channel, text: 'a', metadata });
  const place = { channel: ids.channel, ts: posted.ts ?? '' };
  const kept = async () => (await people.messages(workspace.botUserId, ids.channel))[0]?.metadata;
  await slack.chat.update({ ...place, text: 'b' });
  expect(await kept()).toEqual(metadata);
  expect((await people.messages(ids.noor, ids.channel))[0]?.metadata).toBeNull();
  const history = async (include_all_metadata: boolean) =>
    (await slack.conversations.history({ channel: ids.channel, include_all_metadata })).messages?.[0]
      ?.metadata;
  expect(await history(true)).toEqual(metadata);
  expect(await history(false)).toBeUndefined();
  await slack.apiCall('chat.update', { ...place, text: 'c', metadata: {} });
  expect(await kept()).toBeNull();
});

test('only the bot’s own messages can be updated or deleted', async () => {
  const { people, slack } = await openWorkspace();
  const ts = await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  const place = { channel: ids.channel, ts };
  await expect(slack.chat.update({ ...place, text: 'b' })).rejects.toMatchObject(
    refusedWith('cant_update_message'),
  );
  await expect(slack.chat.delete(place)).rejects.toMatchObject(refusedWith('cant_delete_message'));
  const nowhere = { channel: ids.channel, ts: '1.000000' };
  await expect(slack.chat.update({ ...nowhere, text: 'b' })).rejects.toMatchObject(
    refusedWith('message_not_found'),
  );
  await expect(slack.chat.delete(nowhere)).rejects.toMatchObject(refusedWith('message_not_found'));
  const own = await slack.chat.postMessage({ channel: ids.channel, text: 'mine' });
  const long = { channel: ids.channel, ts: own.ts ?? '', text: 'x'.repeat(4_001) };
  await expect(slack.chat.update(long)).rejects.toMatchObject(refusedWith('msg_too_long'));
});

test('an ephemeral message is for one member, is not updated, and shows only in a live thread', async () => {
  const { people, slack } = await openWorkspace();
  const whisper = { channel: ids.channel, user: ids.noor, text: 'which cup?' };
  const { message_ts } = await slack.chat.postEphemeral(whisper);
  expect(await people.messages(ids.noor, ids.channel)).toMatchObject([{ ts: message_ts, ephemeral: true }]);
  expect(await people.messages(ids.teo, ids.channel)).toEqual([]);
  await expect(
    slack.chat.update({ channel: ids.channel, ts: message_ts ?? '', text: 'b' }),
  ).rejects.toMatchObject(refusedWith('message_not_found'));
  await expect(slack.chat.postEphemeral({ ...whisper, user: 'U404' })).rejects.toMatchObject(
    refusedWith('user_not_in_channel'),
  );
  const parent = await people.say({ as: ids.teo, channel: ids.channel, text: 'lime' });
  await slack.chat.postEphemeral({ ...whisper, thread_ts: parent });
  expect(await people.messages(ids.noor, ids.channel, parent)).toHaveLength(1);
  await people.say({ as: ids.teo, channel: ids.channel, text: 'and tea', thread: parent });
  expect(await people.messages(ids.noor, ids.channel, parent)).toHaveLength(3);
  expect(await people.messages(ids.teo, ids.channel, parent)).toHaveLength(2);
});

test('the bot’s own posts, edits and deletions come back to it as events', async () => {
  const { workspace, people, slack } = await openWorkspace();
  const bot = await startRecorder(workspace);
  const posted = await slack.chat.postMessage({ channel: ids.channel, text: 'a' });
  const place = { channel: ids.channel, ts: posted.ts ?? '' };
  await people.settled();
  await slack.chat.update({ ...place, text: 'b' });
  await people.settled();
  await slack.chat.delete(place);
  await people.settled();
  expect(bot.events()).toMatchObject([
    { type: 'message', bot_id: workspace.botId, text: 'a', ts: posted.ts, channel_type: 'channel' },
    {
      subtype: 'message_changed',
      message: { text: 'b', bot_id: workspace.botId },
      previous_message: { text: 'a' },
    },
    { subtype: 'message_deleted', deleted_ts: posted.ts, previous_message: { text: 'b' } },
  ]);
});
