import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { personClient } from '../../src/local/person-client.js';
import { fernhollow } from '../../src/local/scenario.js';
import { startWorkspace } from '../../src/local/workspace.js';
import { startRecorder } from './recording-bot.js';
import { clientOf, ids, openWorkspace } from './workbench.js';

function place() {
  const folder = mkdtempSync(join(tmpdir(), 'workspace-'));
  return { databaseFile: join(folder, 'local.sqlite'), clockFile: join(folder, 'clock.json') };
}

test('everything is there again after a restart', async () => {
  const { databaseFile } = place();
  const before = await startWorkspace({ scenario: fernhollow, databaseFile });
  const early = personClient(before.url);
  const ts = await early.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  await clientOf(before).reactions.add({ channel: ids.channel, timestamp: ts, name: 'eyes' });
  await clientOf(before).views.publish({
    user_id: ids.ines,
    view: { type: 'home', blocks: [{ type: 'divider' }] },
  });
  await early.clock({ advance: 3_600_000 });
  const state = await early.state();
  const messages = await early.messages(ids.noor, ids.channel);
  const home = await early.home(ids.ines);
  await before.close();

  const after = await openWorkspace({ databaseFile });
  expect(after.workspace).toMatchObject({
    botToken: before.botToken,
    signingSecret: before.signingSecret,
    teamId: before.teamId,
    botUserId: before.botUserId,
  });
  expect(await after.people.messages(ids.noor, ids.channel)).toEqual(messages);
  expect(await after.people.home(ids.ines)).toEqual(home);
  const { now, ...rest } = await after.people.state();
  expect(rest).toEqual({
    workspace: state.workspace,
    bot: state.bot,
    people: state.people,
    channels: state.channels,
  });
  expect(Date.parse(now)).toBeGreaterThanOrEqual(Date.parse(state.now));
});

test('an event that was not acknowledged before a restart is still delivered', async () => {
  const { databaseFile } = place();
  const before = await startWorkspace({ scenario: fernhollow, databaseFile });
  await personClient(before.url).say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  await personClient(before.url).settled();
  await before.close();

  const { workspace, people } = await openWorkspace({ databaseFile });
  const bot = await startRecorder(workspace);
  await people.clock({ advance: 60_000 });
  await people.settled();
  expect(bot.events()).toMatchObject([{ text: 'lemon' }]);
});

test('message times go on increasing over a restart, even when the clock stands still', async () => {
  const { databaseFile } = place();
  const clock = { now: () => new Date('2026-11-25T10:00:00Z') };
  const before = await startWorkspace({ scenario: fernhollow, databaseFile, clock });
  const say = (url: string) => personClient(url).say({ as: ids.noor, channel: ids.channel, text: 'a' });
  const first = [await say(before.url), await say(before.url)];
  await before.close();
  const { workspace } = await openWorkspace({ databaseFile, clock });
  const all = [...first, await say(workspace.url)];
  // Unix time of the instant above, by `date -d 2026-11-25T10:00:00Z +%s`.
  expect(all).toEqual(['1795600800.000000', '1795600800.000001', '1795600800.000002']);
});

test('a fresh start forgets everything, secrets included', async () => {
  const { databaseFile } = place();
  const before = await startWorkspace({ scenario: fernhollow, databaseFile });
  await personClient(before.url).say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  await personClient(before.url).clock({ advance: 86_400_000 });
  await before.close();
  const { workspace, people } = await openWorkspace({ databaseFile, fresh: true });
  expect(workspace.botToken).not.toBe(before.botToken);
  expect(await people.messages(ids.noor, ids.channel)).toEqual([]);
  expect(Math.abs(workspace.clock.now().getTime() - Date.now())).toBeLessThan(60_000);
});

test('a reset begins the scenario again for the same bot', async () => {
  const { workspace, people, slack } = await openWorkspace();
  await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  await people.post('people', { name: 'guest', realName: 'Guest', tz: 'Europe/Lisbon' });
  const now = workspace.clock.now();
  await people.post('reset', {});
  expect(await people.messages(ids.noor, ids.channel)).toEqual([]);
  expect((await people.state()).people.map((person) => person.name)).toEqual([
    'tallyspoon',
    ...fernhollow.people.map((person) => person.name),
  ]);
  expect((await slack.auth.test()).user_id).toBe(workspace.botUserId);
  expect(workspace.clock.now().getTime()).toBeGreaterThanOrEqual(now.getTime());
});

test('the clock moves on, never back, and tells whoever listens', async () => {
  const { workspace, people } = await openWorkspace({
    clock: { now: () => new Date('2026-11-25T10:00:00Z') },
  });
  const heard: string[] = [];
  const stop = workspace.clock.onMove(() => heard.push(workspace.clock.now().toISOString()));
  expect(await people.clock({})).toEqual({ now: '2026-11-25T10:00:00.000Z', offsetMs: 0 });
  await people.clock({ advance: 90_000 });
  await people.clock({ to: '2026-11-26T14:00:00+01:00' });
  expect(heard.slice(-2)).toEqual(['2026-11-25T10:01:30.000Z', '2026-11-26T13:00:00.000Z']);
  expect(await people.refused('/local/clock', { to: '2026-11-25T10:00:00Z' })).toMatchObject({
    error: 'clock_goes_forward',
  });
  expect(await people.refused('/local/clock', { to: '2200-01-02T00:00:00Z' })).toMatchObject({
    error: 'clock_too_far',
  });
  stop();
  await people.clock({ advance: 1 });
  expect(heard.at(-1)).toBe('2026-11-26T13:00:00.000Z');
});

test('a bot in another process finds the moved clock in a file', async () => {
  const { databaseFile, clockFile } = place();
  const { people } = await openWorkspace({ databaseFile, clockFile });
  const offset = () => Number(JSON.parse(readFileSync(clockFile, 'utf8')).offsetMs);
  expect(Math.abs(offset())).toBeLessThan(1_000);
  await people.clock({ advance: 7_200_000 });
  expect(Math.abs(offset() - 7_200_000)).toBeLessThan(1_000);
});

test('unread counts what others wrote since, and private messages only for their reader', async () => {
  const { people, slack } = await openWorkspace();
  await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  const last = await people.say({ as: ids.teo, channel: ids.channel, text: 'lime' });
  await slack.chat.postEphemeral({ channel: ids.channel, user: ids.noor, text: 'psst' });
  expect(await people.unread(ids.noor)).toEqual([{ id: ids.channel, unread: 2 }]);
  expect(await people.unread(ids.bram)).toEqual([{ id: ids.channel, unread: 2 }]);
  await people.post('read', { as: ids.noor, channel: ids.channel, ts: last });
  expect(await people.unread(ids.noor)).toEqual([{ id: ids.channel, unread: 1 }]);
});

test('open pages are told of changes as they happen', async () => {
  const { workspace, people } = await openWorkspace();
  const stream = await fetch(`${workspace.url}/local/stream`);
  const reader = stream.body?.pipeThrough(new TextDecoderStream()).getReader();
  const ts = await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  await people.clock({ advance: 1 });
  let text = '';
  while (!text.includes('"clock"')) text += (await reader?.read())?.value ?? '';
  await reader?.cancel();
  expect(stream.headers.get('content-type')).toBe('text/event-stream');
  expect(text).toContain(
    `event: change\ndata: {"kind":"message","channel":"${ids.channel}","ts":"${ts}"}\n\n`,
  );
});
