import { createHmac } from 'node:crypto';
import { expect, test } from 'vitest';
import { JsonObject } from '../../src/local/api-types.js';
import { startRecorder } from './recording-bot.js';
import { ids, openWorkspace, startBolt } from './workbench.js';

test('an event is signed over its exact bytes, as Slack signs, with real time', async () => {
  const { workspace, people } = await openWorkspace();
  const bot = await startRecorder(workspace);
  await people.clock({ advance: 86_400_000 });
  await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon “and” thé' });
  await people.settled();
  const [one] = bot.received;
  const time = one?.headers['x-slack-request-timestamp'];
  // Base string and digest as docs.slack.dev, "Verifying requests from Slack", describes them.
  const digest = createHmac('sha256', workspace.signingSecret).update(`v0:${time}:${one?.raw}`).digest('hex');
  expect(one?.headers['x-slack-signature']).toBe(`v0=${digest}`);
  expect(Math.abs(Number(time) - Date.now() / 1_000)).toBeLessThan(10);
  expect(one?.headers['content-type']).toBe('application/json');
  expect(one?.body).toMatchObject({
    type: 'event_callback',
    team_id: workspace.teamId,
    event_id: expect.stringMatching(/^Ev[A-Z0-9]+$/),
    authorizations: [{ team_id: workspace.teamId, user_id: workspace.botUserId, is_bot: true }],
  });
});

test('Bolt accepts our signature and refuses another secret’s', async () => {
  const good = await openWorkspace();
  await startBolt(good.workspace, (app) => app.message(async () => undefined));
  await good.people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  await good.people.settled();
  expect((await good.people.deliveries())[0]).toMatchObject({ kind: 'message', status: 200 });
  const bad = await openWorkspace();
  await startBolt(bad.workspace, (app) => app.message(async () => undefined), 'another secret');
  await bad.people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  await bad.people.settled();
  expect((await bad.people.deliveries())[0]).toMatchObject({ status: 401, error: 'http_error' });
});

test('commands and taps come as plain forms, without a charset', async () => {
  const { workspace, people, slack } = await openWorkspace();
  const bot = await startRecorder(workspace);
  await people.command({ as: ids.ines, channel: ids.channel, text: '/spoon' });
  const { ts } = await slack.chat.postMessage({
    channel: ids.channel,
    text: 'a',
    blocks: [
      {
        type: 'actions',
        elements: [{ type: 'button', action_id: 'go', text: { type: 'plain_text', text: 'Go' } }],
      },
    ],
  });
  await people.tap({ as: ids.ines, message: { channel: ids.channel, ts }, action: { actionId: 'go' } });
  const forms = bot.received.filter((one) => one.body['type'] !== 'event_callback');
  expect(forms.map((one) => one.headers['content-type'])).toEqual([
    'application/x-www-form-urlencoded',
    'application/x-www-form-urlencoded',
  ]);
});

test('a mention is told twice, as a mention and as a message, in either order', async () => {
  const { workspace, people } = await openWorkspace({
    clock: { now: () => new Date('2026-11-25T10:00:00Z') },
  });
  const bot = await startRecorder(workspace);
  const orders = new Set<string>();
  for (let index = 0; index < 6; index += 1) {
    const from = bot.events().length;
    await people.say({ as: ids.noor, channel: ids.channel, text: '@Tallyspoon tally' });
    await people.settled({ quietMs: 0 });
    const told = bot.events().slice(from);
    expect(told.map((event) => event['ts'])).toEqual([told[0]?.['ts'], told[0]?.['ts']]);
    expect(told.map((event) => event['text'])).toEqual(Array(2).fill(`<@${workspace.botUserId}> tally`));
    orders.add(told.map((event) => event['type']).join(' '));
  }
  expect([...orders].every((order) => ['app_mention message', 'message app_mention'].includes(order))).toBe(
    true,
  );
});

test('in direct messages a mention is a message alone', async () => {
  const { workspace, people } = await openWorkspace();
  const bot = await startRecorder(workspace);
  const dm = await people.dm(ids.noor);
  await people.say({ as: ids.noor, channel: dm.id, text: '@tallyspoon help' });
  await people.settled();
  expect(bot.events()).toMatchObject([{ type: 'message', channel_type: 'im', channel: dm.id }]);
});

test('an edit is a message_changed with both texts, and mentions again', async () => {
  const { workspace, people } = await openWorkspace();
  const bot = await startRecorder(workspace);
  const ts = await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  await people.settled();
  await people.post('edit', { as: ids.noor, channel: ids.channel, ts, text: '@tallyspoon lime' });
  await people.settled();
  const [, ...told] = bot.events();
  expect(told).toHaveLength(2);
  const changed = told.find((event) => event['subtype'] === 'message_changed');
  expect(changed).toMatchObject({
    hidden: true,
    channel: ids.channel,
    message: { ts, user: ids.noor, text: `<@${workspace.botUserId}> lime`, edited: { user: ids.noor } },
    previous_message: { ts, text: 'lemon' },
  });
  expect(changed).not.toHaveProperty('user');
  expect(JsonObject.parse(changed?.['message'])).not.toHaveProperty('channel');
  expect(told.find((event) => event['type'] === 'app_mention')).toMatchObject({
    ts,
    edited: { user: ids.noor },
  });
});

test('a deleted message is told as such; a deleted parent leaves a tombstone', async () => {
  const { workspace, people } = await openWorkspace();
  const bot = await startRecorder(workspace);
  const parent = await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  const reply = await people.say({ as: ids.teo, channel: ids.channel, text: 'lime', thread: parent });
  await people.settled();
  await people.post('delete', { as: ids.noor, channel: ids.channel, ts: parent });
  await people.settled();
  await people.post('delete', { as: ids.teo, channel: ids.channel, ts: reply });
  await people.settled();
  expect(bot.events().slice(2)).toMatchObject([
    {
      subtype: 'message_changed',
      message: { subtype: 'tombstone', user: 'USLACKBOT', ts: parent },
      previous_message: { text: 'lemon', user: ids.noor },
    },
    { subtype: 'message_deleted', deleted_ts: reply, previous_message: { text: 'lime', thread_ts: parent } },
  ]);
  expect(await people.messages(ids.teo, ids.channel)).toMatchObject([{ ts: parent, deleted: true }]);
});

test('a reply names its parent, and a reply shown in the channel carries it', async () => {
  const { workspace, people } = await openWorkspace();
  const bot = await startRecorder(workspace);
  const parent = await people.say({ as: ids.ines, channel: ids.channel, text: 'Cup A' });
  await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon', thread: parent });
  await people.say({ as: ids.noor, channel: ids.channel, text: 'lime', thread: parent, broadcast: true });
  await people.settled();
  const byText = new Map(bot.events().map((event) => [event['text'], event]));
  expect(byText.get('lemon')).toMatchObject({ thread_ts: parent, parent_user_id: ids.ines });
  expect(byText.get('lime')).toMatchObject({
    subtype: 'thread_broadcast',
    thread_ts: parent,
    root: { ts: parent, text: 'Cup A' },
  });
  expect(byText.get('Cup A')).toHaveProperty('client_msg_id');
});

test('the bot hears only conversations that it is in', async () => {
  const { workspace, people } = await openWorkspace();
  const bot = await startRecorder(workspace);
  await people.post('channels', { name: 'office', kind: 'channel', members: [ids.ines] });
  await people.say({ as: ids.ines, channel: 'C000OFFICE', text: '@tallyspoon hello' });
  await people.settled();
  expect(bot.events()).toEqual([]);
  await people.post('channels/C000OFFICE', { addMember: workspace.botUserId });
  await people.say({ as: ids.ines, channel: 'C000OFFICE', text: 'again' });
  await people.settled();
  const types = bot.events().map((event) => event['type']);
  expect(types.sort()).toEqual(['member_joined_channel', 'message']);
});

test('opening the home tab is told, and what the bot publishes is shown', async () => {
  const { workspace, people, slack } = await openWorkspace();
  const bot = await startRecorder(workspace);
  await people.post('home-opened', { as: ids.ines, tab: 'home' });
  await people.settled();
  expect(bot.events()).toMatchObject([{ type: 'app_home_opened', user: ids.ines, tab: 'home' }]);
  expect(await people.home(ids.ines)).toBeNull();
  await slack.views.publish({ user_id: ids.ines, view: { type: 'home', blocks: [{ type: 'divider' }] } });
  expect(await people.home(ids.ines)).toMatchObject({ type: 'home', blocks: [{ type: 'divider' }] });
});

test('text is escaped, and handles, channels and links resolved, as Slack sends them', async () => {
  const { workspace, people } = await openWorkspace();
  const bot = await startRecorder(workspace);
  const typed =
    'A & B <!channel> @noor, @nobody #tasting-table https://example.org/a?b=1&c=2. a@example.org @here';
  await people.say({ as: ids.ines, channel: ids.channel, text: typed });
  await people.settled();
  expect(bot.events()[0]?.['text']).toBe(
    `A &amp; B &lt;!channel&gt; <@${ids.noor}>, @nobody <#${ids.channel}|tasting-table> ` +
      '<https://example.org/a?b=1&amp;c=2>. <mailto:a@example.org|a@example.org> <!here>',
  );
});
