import { expect, test } from 'vitest';
import { ids, openWorkspace, startBolt } from './workbench.js';

test('a person runs a command and sees the answer alone', async () => {
  const { workspace, people } = await openWorkspace();
  await startBolt(workspace, (app) => {
    app.command('/spoon', async ({ ack, command }) => {
      await ack(`understood: ${command.text}`);
    });
  });
  const answer = await people.command({ as: ids.ines, channel: ids.channel, text: '/spoon book with @noor' });
  expect(answer).toMatchObject({ ok: true, status: 200 });
  expect(answer.response).toMatchObject({
    ephemeral: true,
    text: 'understood: book with <@U00000NOOR|noor>',
  });
  expect(await people.messages(ids.ines, ids.channel)).toHaveLength(1);
  expect(await people.messages(ids.noor, ids.channel)).toHaveLength(0);
});

test('a message reaches the bot, whose reply comes back as a thread', async () => {
  const { workspace, people } = await openWorkspace();
  const heard: string[] = [];
  await startBolt(workspace, (app) => {
    app.message(async ({ message, client }) => {
      if (message.subtype !== undefined) return;
      heard.push(message.text ?? '');
      await client.chat.postMessage({ channel: message.channel, thread_ts: message.ts, text: 'noted' });
    });
  });
  const ts = await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon & black tea <3' });
  expect(await people.settled()).toBe(true);
  expect(heard).toEqual(['lemon &amp; black tea &lt;3']);
  const [parent, reply] = await people.messages(ids.noor, ids.channel, ts);
  expect(parent).toMatchObject({ user: ids.noor, replyCount: 1 });
  expect(reply).toMatchObject({ text: 'noted', threadTs: ts, botId: workspace.botId });
});
