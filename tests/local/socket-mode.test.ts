import { App, SocketModeReceiver } from '@slack/bolt';
import { expect, onTestFinished, test } from 'vitest';
import { startSocketMode } from './socket-mode-server.js';
import { clientOf, ids, openWorkspace, silent } from './workbench.js';

/** A Bolt app in Socket Mode, connected, that keeps what it hears. */
async function connected() {
  const socket = await startSocketMode();
  onTestFinished(() => socket.close());
  const opened = await openWorkspace({ transport: socket, ackTimeoutMs: 1_500 });
  const heard: string[] = [];
  const clientOptions = { slackApiUrl: opened.workspace.apiUrl };
  const app = new App({
    token: opened.workspace.botToken,
    receiver: new SocketModeReceiver({
      appToken: opened.workspace.appToken,
      logger: silent,
      // Also how long the client waits before it connects anew: five seconds otherwise.
      clientPingTimeout: 500,
      installerOptions: { clientOptions },
    }),
    logger: silent,
    convoStore: false,
    clientOptions,
  });
  app.command('/spoon', async ({ ack, command }) => ack(`heard ${command.text}`));
  app.message(async ({ message, context }) => {
    if (message.subtype === undefined) heard.push(`${message.text} ${context.retryNum ?? 0}`);
  });
  app.view('ask', async ({ ack }) => ack({ response_action: 'errors', errors: { grams: 'too few' } }));
  app.shortcut('open', async ({ ack, shortcut, client }) => {
    await ack();
    await client.views.open({
      trigger_id: shortcut.trigger_id,
      view: {
        type: 'modal',
        callback_id: 'ask',
        title: { type: 'plain_text', text: 'Ask' },
        submit: { type: 'plain_text', text: 'Ask' },
        blocks: [
          {
            type: 'input',
            block_id: 'grams',
            label: { type: 'plain_text', text: 'Grams' },
            element: { type: 'plain_text_input', action_id: 'g' },
          },
        ],
      },
    });
  });
  await app.start();
  onTestFinished(async () => {
    await app.stop();
  });
  return { ...opened, socket, heard };
}

test('events, commands and forms go over the socket, with their answers', async () => {
  const { people, heard } = await connected();
  await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  expect(await people.settled()).toBe(true);
  expect(heard).toEqual(['lemon 0']);
  const answer = await people.command({ as: ids.ines, channel: ids.channel, text: '/spoon tally' });
  expect(answer).toMatchObject({ ok: true, response: { text: 'heard tally', ephemeral: true } });
  await people.shortcut({ as: ids.ines, callbackId: 'open' });
  await expect.poll(async () => (await people.views(ids.ines)).stack.length).toBe(1);
  const [view] = (await people.views(ids.ines)).stack;
  const submitted = await people.submit({
    as: ids.ines,
    view: { id: view?.id },
    values: { grams: { g: '5' } },
  });
  expect(submitted).toMatchObject({ ok: false, errors: { grams: 'too few' } });
});

test.each(['warning', 'refresh_requested'] as const)(
  'a notice of %s makes the bot connect anew',
  async (reason) => {
    const { people, socket, heard } = await connected();
    socket.disconnect(reason);
    const opened = async () =>
      (await people.calls()).filter((call) => call.method === 'apps.connections.open').length;
    await expect.poll(opened, { timeout: 15_000 }).toBe(2);
    await expect.poll(() => socket.connections(), { timeout: 15_000 }).toBe(1);
    await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
    await people.settled();
    expect(heard).toEqual(['lemon 0']);
  },
);

test('an event that meets a broken socket comes again as a retry', async () => {
  const { people, socket, heard } = await connected();
  socket.cut();
  await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  await expect.poll(() => socket.connections(), { timeout: 10_000 }).toBe(1);
  await people.settled();
  await people.clock({ advance: 60_000 });
  await people.settled();
  expect(heard).toEqual([expect.stringMatching(/^lemon [12]$/)]);
});

test('a socket address opens one connection, for the app’s token alone', async () => {
  const { workspace } = await connected();
  await expect(clientOf(workspace).apps.connections.open({})).rejects.toMatchObject({
    data: { error: 'not_allowed_token_type' },
  });
  const { url = '' } = await clientOf(workspace, workspace.appToken).apps.connections.open({});
  expect(url).toMatch(/^ws:\/\/127\.0\.0\.1:/);
});

test('without a socket none is opened', async () => {
  const { workspace } = await openWorkspace();
  await expect(clientOf(workspace, workspace.appToken).apps.connections.open({})).rejects.toMatchObject({
    data: { error: 'access_denied' },
  });
});
