import { expect, test } from 'vitest';
import { startRecorder } from '../recording-bot.js';
import { ids, openWorkspace } from '../workbench.js';

const refusedWith = (error: string) => ({ data: { ok: false, error } });
const png = Buffer.from('89504e470d0a1a0a', 'hex');

test('a picture uploaded by Slack’s own client is shared, shown and told as an event', async () => {
  const { workspace, people, slack } = await openWorkspace({
    scopes: ['chat:write', 'files:write', 'files:read'],
  });
  const bot = await startRecorder(workspace);
  const uploaded = await slack.filesUploadV2({
    channel_id: ids.channel,
    file: png,
    filename: 'tally.png',
    title: 'Tally of T1',
    initial_comment: 'The tally',
  });
  expect(uploaded.ok).toBe(true);
  expect(await people.settled()).toBe(true);
  const [message] = await people.messages(ids.noor, ids.channel);
  expect(message).toMatchObject({
    text: 'The tally',
    botId: workspace.botId,
    files: [{ title: 'Tally of T1', name: 'tally.png', mimetype: 'image/png' }],
  });
  const file = message?.files[0];
  const bytes = await fetch(workspace.url + file?.url);
  expect(bytes.headers.get('content-type')).toBe('image/png');
  expect(Buffer.from(await bytes.arrayBuffer())).toEqual(png);
  expect(bot.events()).toMatchObject([{ subtype: 'file_share', files: [{ id: file?.id }] }]);
  const info = await slack.files.info({ file: file?.id ?? '' });
  expect(info.file?.shares?.public?.[ids.channel]).toMatchObject([{ ts: message?.ts }]);
});

test('sharing comes after the answer', async () => {
  const { people, slack } = await openWorkspace({ shareDelayMs: 1_000 });
  await slack.filesUploadV2({ channel_id: ids.channel, file: png, filename: 'a.png' });
  expect(await people.messages(ids.noor, ids.channel)).toEqual([]);
  await people.settled();
  expect(await people.messages(ids.noor, ids.channel)).toHaveLength(1);
});

test('an upload that does not fit is refused', async () => {
  const { slack } = await openWorkspace();
  const ask = (length: number) => slack.files.getUploadURLExternal({ filename: 'a.png', length });
  await expect(ask(0)).rejects.toMatchObject(refusedWith('missing_argument'));
  await expect(ask(20_000_001)).rejects.toMatchObject(refusedWith('file_upload_size_restricted'));
  const { file_id = '', upload_url = '' } = await ask(8);
  const share = (channel_id: string) =>
    slack.files.completeUploadExternal({ files: [{ id: file_id }], channel_id });
  await expect(share(ids.channel)).rejects.toMatchObject(refusedWith('file_not_found'));
  const put = () => fetch(upload_url, { method: 'POST', body: png });
  expect((await put()).status).toBe(200);
  expect((await put()).status).toBe(404);
  await expect(share('U00000NOOR')).rejects.toMatchObject(refusedWith('invalid_channel'));
  await expect(share('C404')).rejects.toMatchObject(refusedWith('channel_not_found'));
  await share(ids.channel);
  await expect(share(ids.channel)).rejects.toMatchObject(refusedWith('file_not_found'));
});

test('a picture block takes a file that is there and no other', async () => {
  const { slack } = await openWorkspace();
  const { file_id = '', upload_url = '' } = await slack.files.getUploadURLExternal({
    filename: 'a.png',
    length: 8,
  });
  await fetch(upload_url, { method: 'POST', body: png });
  await slack.files.completeUploadExternal({ files: [{ id: file_id }] });
  const post = (id: string) =>
    slack.chat.postMessage({
      channel: ids.channel,
      text: 'a',
      blocks: [{ type: 'image', alt_text: 'the tally', slack_file: { id } }],
    });
  expect((await post(file_id)).ok).toBe(true);
  await expect(post('F404')).rejects.toMatchObject(refusedWith('invalid_blocks'));
});

test('a person can attach a file, which the bot hears as file_share', async () => {
  const { workspace, people } = await openWorkspace();
  const bot = await startRecorder(workspace);
  const base64 = png.toString('base64');
  await people.say({
    as: ids.noor,
    channel: ids.channel,
    text: 'my sheet',
    files: [{ name: 'sheet.png', base64 }],
  });
  await people.settled();
  expect(bot.events()).toMatchObject([
    { subtype: 'file_share', user: ids.noor, text: 'my sheet', files: [{ name: 'sheet.png', size: 8 }] },
  ]);
  expect(bot.events()[0]).not.toHaveProperty('client_msg_id');
});
