import { expect, test } from 'vitest';
import { ids, openWorkspace } from '../workbench.js';

const refusedWith = (error: string) => ({ data: { ok: false, error } });

test('a conversation tells its kind and name', async () => {
  const { people, slack } = await openWorkspace();
  const { channel } = await slack.conversations.info({ channel: ids.channel });
  expect(channel).toMatchObject({
    id: ids.channel,
    name: 'tasting-table',
    is_channel: true,
    is_member: true,
  });
  await people.post('channels', { name: 'back-room', kind: 'private', members: [ids.ines] });
  await expect(slack.conversations.info({ channel: 'C0BACKROOM' })).rejects.toMatchObject(
    refusedWith('channel_not_found'),
  );
});

test('direct messages open once and stay the same', async () => {
  const { people, slack } = await openWorkspace();
  const first = await slack.conversations.open({ users: ids.bram });
  const second = await slack.conversations.open({ users: ids.bram });
  expect(second).toMatchObject({ already_open: true, channel: { id: first.channel?.id } });
  expect((await people.dm(ids.bram)).id).toBe(first.channel?.id);
});

test('conversations that cannot be opened say why', async () => {
  const { people, slack } = await openWorkspace();
  await expect(slack.conversations.open({ users: 'U404' })).rejects.toMatchObject(
    refusedWith('user_not_found'),
  );
  await expect(slack.apiCall('conversations.open')).rejects.toMatchObject(refusedWith('not_enough_users'));
  await expect(slack.conversations.open({ users: `${ids.bram},${ids.noor}` })).rejects.toMatchObject({
    data: { error: 'missing_scope', needed: 'mpim:write' },
  });
  await people.post(`people/${ids.bram}`, { deleted: true });
  await expect(slack.conversations.open({ users: ids.bram })).rejects.toMatchObject(
    refusedWith('user_disabled'),
  );
});

test('a thread is read from its parent on, in pages, without what only one person sees', async () => {
  const { people, slack } = await openWorkspace();
  const parent = await people.say({ as: ids.ines, channel: ids.channel, text: 'Cup A' });
  for (const text of ['lemon', 'lime', 'tea'])
    await people.say({ as: ids.noor, channel: ids.channel, text, thread: parent });
  await slack.chat.postEphemeral({ channel: ids.channel, user: ids.noor, text: 'psst', thread_ts: parent });
  const first = await slack.conversations.replies({ channel: ids.channel, ts: parent, limit: 2 });
  expect(first.messages?.map((message) => message.text)).toEqual(['Cup A', 'lemon']);
  expect(first).toMatchObject({
    has_more: true,
    messages: [{ reply_count: 3, thread_ts: parent }, { parent_user_id: ids.ines }],
  });
  const cursor = first.response_metadata?.next_cursor ?? '';
  const second = await slack.conversations.replies({ channel: ids.channel, ts: parent, limit: 2, cursor });
  expect(second.messages?.map((message) => message.text)).toEqual(['lime', 'tea']);
  expect(second.has_more).toBe(false);
  await expect(slack.conversations.replies({ channel: ids.channel, ts: '1.000000' })).rejects.toMatchObject(
    refusedWith('thread_not_found'),
  );
});

test('history is newest first, between two times', async () => {
  const { people, slack } = await openWorkspace();
  const ts: string[] = [];
  for (const text of ['one', 'two', 'three'])
    ts.push(await people.say({ as: ids.noor, channel: ids.channel, text }));
  const texts = async (limits: { oldest?: string; latest?: string; inclusive?: boolean }) =>
    (await slack.conversations.history({ channel: ids.channel, ...limits })).messages?.map(
      (message) => message.text,
    );
  expect(await texts({})).toEqual(['three', 'two', 'one']);
  expect(await texts({ oldest: ts[0] ?? '' })).toEqual(['three', 'two']);
  expect(await texts({ oldest: ts[0] ?? '', latest: ts[1] ?? '', inclusive: true })).toEqual(['two', 'one']);
});

test('people have names and time zones', async () => {
  const { slack } = await openWorkspace();
  const { user } = await slack.users.info({ user: ids.noor });
  expect(user).toMatchObject({
    id: ids.noor,
    name: 'noor',
    real_name: 'Noor',
    tz: 'Europe/Lisbon',
    deleted: false,
  });
  await expect(slack.users.info({ user: 'U404' })).rejects.toMatchObject(refusedWith('user_not_found'));
});

test('a reaction is made once, under a valid name, and taken away again', async () => {
  const { people, slack } = await openWorkspace();
  const timestamp = await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  const mark = { channel: ids.channel, timestamp, name: 'white_check_mark' };
  await slack.reactions.add(mark);
  await people.post('react', { as: ids.teo, channel: ids.channel, ts: timestamp, name: 'white_check_mark' });
  const [message] = await people.messages(ids.noor, ids.channel);
  expect(message?.reactions).toEqual([{ name: 'white_check_mark', users: ['UTALLYSPOON', ids.teo] }]);
  await expect(slack.reactions.add(mark)).rejects.toMatchObject(refusedWith('already_reacted'));
  await expect(slack.reactions.add({ ...mark, name: 'no such' })).rejects.toMatchObject(
    refusedWith('invalid_name'),
  );
  await expect(slack.reactions.add({ ...mark, timestamp: '1.000000' })).rejects.toMatchObject(
    refusedWith('message_not_found'),
  );
  await slack.reactions.remove(mark);
  await expect(slack.reactions.remove(mark)).rejects.toMatchObject(refusedWith('no_reaction'));
});

test('time zone offsets follow the calendar', async () => {
  // Lisbon is on UTC in winter and one hour ahead in summer (IANA time zone database).
  const offsetAt = async (iso: string) => {
    const { slack } = await openWorkspace({ clock: { now: () => new Date(iso) } });
    return (await slack.users.info({ user: ids.noor })).user?.tz_offset;
  };
  expect(await offsetAt('2027-01-15T12:00:00Z')).toBe(0);
  expect(await offsetAt('2027-07-15T12:00:00Z')).toBe(3_600);
});
