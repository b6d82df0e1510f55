import { expect, test } from 'vitest';
import { startRecorder } from './recording-bot.js';
import { ids, openWorkspace } from './workbench.js';

const button = {
  type: 'actions',
  elements: [{ type: 'button', action_id: 'go', text: { type: 'plain_text', text: 'Go' } }],
} as const;

async function answer(url: unknown, body: object): Promise<readonly [number, unknown]> {
  const response = await fetch(String(url), { method: 'POST', body: JSON.stringify(body) });
  return [response.status, await response.json()];
}

/** A response URL of a command of Ines. */
async function commandUrl() {
  const { workspace, people, slack } = await openWorkspace();
  const bot = await startRecorder(workspace);
  await people.command({ as: ids.ines, channel: ids.channel, text: '/spoon' });
  return { workspace, people, slack, bot, url: bot.received[0]?.body['response_url'] };
}

test('a command’s answers are for the person alone; what is not played is refused, not passed over', async () => {
  const { people, url } = await commandUrl();
  expect(await answer(url, { text: 'for you', response_type: 'ephemeral' })).toEqual([200, { ok: true }]);
  for (const more of [{ response_type: 'in_channel' }, { replace_original: true }, { delete_original: true }])
    expect(await answer(url, { text: 'a', ...more })).toEqual([400, { ok: false, error: 'invalid_payload' }]);
  expect((await people.messages(ids.ines, ids.channel)).map((one) => one.text)).toEqual(['for you']);
  expect(await people.messages(ids.noor, ids.channel)).toEqual([]);
});

test('a response URL works five times', async () => {
  const { url } = await commandUrl();
  for (let use = 1; use <= 5; use += 1)
    expect(await answer(url, { text: `${use}` })).toEqual([200, { ok: true }]);
  expect(await answer(url, { text: '6' })).toEqual([404, { ok: false, error: 'used_url' }]);
});

test('a response URL works for thirty minutes', async () => {
  const { people, url } = await commandUrl();
  await people.clock({ advance: 30 * 60_000 - 5_000 });
  expect((await answer(url, { text: 'in time' }))[0]).toBe(200);
  await people.clock({ advance: 5_001 });
  expect(await answer(url, { text: 'late' })).toEqual([404, { ok: false, error: 'expired_url' }]);
});

test('what Slack would refuse is refused here too', async () => {
  const { people, url } = await commandUrl();
  expect(await answer(url, { text: '' })).toEqual([400, { ok: false, error: 'no_text' }]);
  expect(await answer(url, { blocks: [{ type: 'header' }] })).toMatchObject([
    400,
    { error: 'invalid_blocks' },
  ]);
  expect(await people.messages(ids.ines, ids.channel)).toEqual([]);
  await people.post(`channels/${ids.channel}`, { archived: true });
  expect(await answer(url, { text: 'a' })).toEqual([400, { ok: false, error: 'is_archived' }]);
});

test('it works where the bot is not a member', async () => {
  const { workspace, people, url } = await commandUrl();
  await people.post(`channels/${ids.channel}`, { removeMember: workspace.botUserId });
  expect((await answer(url, { text: 'still here' }))[0]).toBe(200);
});

test('an ephemeral message can be tapped and answered, and the bot is sent neither back', async () => {
  const { workspace, people, slack } = await openWorkspace();
  const bot = await startRecorder(workspace);
  await slack.chat.postEphemeral({
    channel: ids.channel,
    user: ids.noor,
    text: 'which cup?',
    blocks: [button],
  });
  const [whisper] = await people.messages(ids.noor, ids.channel);
  const message = { channel: ids.channel, ts: whisper?.ts };
  expect(await people.refused('/local/tap', { as: ids.teo, message, action: { actionId: 'go' } })).toEqual({
    status: 404,
    error: 'message_not_found',
  });
  expect(await people.tap({ as: ids.noor, message, action: { actionId: 'go' } })).toEqual({
    ok: true,
    status: 200,
  });
  const tapped = bot.received.at(-1)?.body;
  expect(tapped).toMatchObject({ container: { is_ephemeral: true, message_ts: whisper?.ts } });
  expect(tapped).not.toHaveProperty('message');
  await answer(tapped?.['response_url'], { text: 'thanks', replace_original: false });
  expect(await people.messages(ids.noor, ids.channel)).toMatchObject([
    { text: 'which cup?', ephemeral: true },
    { text: 'thanks', ephemeral: true },
  ]);
  expect(await people.messages(ids.teo, ids.channel)).toEqual([]);
  await people.settled();
  expect(bot.events()).toEqual([]);
});
