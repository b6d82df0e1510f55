import { afterEach, beforeEach, expect, test } from 'vitest';
import type { Notice } from '../../src/kit/notice.js';
import { type FakeSlack, sendEvent, startFakeSlack } from './support/fake-slack.js';
import { givenUp, message, quietBot, show, startTestBot, tempFolder } from './support/test-bot.js';

let slack: FakeSlack;
let wanted: readonly Notice[] = [];
const bot = quietBot({ notices: async () => wanted });
beforeEach(async () => {
  slack = await startFakeSlack();
  wanted = [];
});
afterEach(() => slack.stop());

const standing = () => slack.messages.filter((one) => !one.deleted).map(({ text }) => text);

test('a notice is posted once, updated when it changes and deleted when it is not wanted any more', async () => {
  const running = await startTestBot({ slack, bot });
  for (const text of ['booked', 'booked', 'open']) {
    wanted = [message('table:1', text)];
    await show(running);
    expect(await running.settled()).toBe(true);
  }
  expect(standing()).toEqual(['open']);
  expect(slack.callsOf('chat.postMessage')).toHaveLength(1);
  expect(slack.callsOf('chat.update')).toHaveLength(1);
  wanted = [{ kind: 'message', key: 'table:1', place: { kind: 'channel', channel: 'C1' }, message: null }];
  await show(running);
  await running.settled();
  expect(standing()).toEqual([]);
  await running.stop();
});

test('a burst of changes becomes few updates and ends true', async () => {
  const running = await startTestBot({ slack, bot, more: { updateGapMs: 200 } });
  for (let count = 0; count <= 50; count += 1) {
    wanted = [message('table:1', `notes: ${count}`)];
    await show(running);
    await new Promise((resolve) => setTimeout(resolve, 4));
  }
  expect(await running.settled()).toBe(true);
  expect(standing()).toEqual(['notes: 50']);
  expect(slack.callsOf('chat.update').length).toBeLessThanOrEqual(4);
  await running.stop();
});

test('notices of one place are posted in order, and a thread waits for the message it hangs under', async () => {
  const running = await startTestBot({ slack, bot });
  let failures = 2;
  slack.fail = ({ method, args }) => {
    if (method !== 'chat.postMessage' || args['text'] !== 'table' || failures === 0) return null;
    failures -= 1;
    return { status: 429, headers: { 'retry-after': '0' } };
  };
  wanted = [
    message('reply', 'in the thread', { kind: 'thread', under: 'table:1' }),
    message('table:1', 'table'),
    message('cup:1', 'cup A'),
    message('cup:2', 'cup B'),
  ];
  await show(running);
  expect(await running.settled()).toBe(true);
  expect(slack.messages.filter((one) => !one.thread_ts).map(({ text }) => text)).toEqual([
    'table',
    'cup A',
    'cup B',
  ]);
  const parent = slack.messages.find(({ text }) => text === 'table');
  expect(slack.messages.find(({ text }) => text === 'in the thread')?.thread_ts).toBe(parent?.ts);
  await running.stop();
});

test('a post that Slack took before the connection was cut is found by its key and not posted again', async () => {
  const running = await startTestBot({ slack, bot });
  let cuts = 1;
  slack.failAfter = ({ method }) => {
    if (method !== 'chat.postMessage' || cuts === 0) return null;
    cuts -= 1;
    return { status: 0, cut: true };
  };
  wanted = [message('table:1', 'table')];
  await show(running);
  expect(await running.settled()).toBe(true);
  expect(standing()).toEqual(['table']);
  expect(slack.callsOf('chat.postMessage')).toHaveLength(1);
  await running.stop();
});

test('a post cut before Slack took it is posted on the next try', async () => {
  const running = await startTestBot({ slack, bot });
  let cuts = 1;
  slack.fail = ({ method }) => {
    if (method !== 'chat.postMessage' || cuts === 0) return null;
    cuts -= 1;
    return { status: 503 };
  };
  wanted = [message('table:1', 'table')];
  await show(running);
  expect(await running.settled()).toBe(true);
  expect(standing()).toEqual(['table']);
  await running.stop();
});

test('a bot that died while posting finds its message after the restart', async () => {
  const folder = tempFolder();
  const database = `${folder.path}/bot.db`;
  const first = await startTestBot({ slack, bot, database });
  wanted = [message('table:1', 'table')];
  await show(first);
  await first.settled();
  // As a kill between Slack's answer and its commit leaves it.
  await first.deps.db
    .updateTable('notice')
    .set({
      state: 'posting',
      ts: null,
      shown_hash: null,
      posting_since: new Date().toISOString(),
    })
    .execute();
  await first.stop();
  const second = await startTestBot({ slack, bot, database });
  expect(await second.settled()).toBe(true);
  expect(standing()).toEqual(['table']);
  expect(slack.callsOf('chat.postMessage')).toHaveLength(1);
  await second.stop();
  folder.remove();
});

test('the key that travels with a message tells nothing', async () => {
  const running = await startTestBot({ slack, bot });
  wanted = [message('cup:Nubosa Natural', 'cup 412')];
  await show(running);
  await running.settled();
  expect(slack.callsOf('chat.postMessage')[0]?.args['metadata']).not.toMatch(/nubosa|cup/i);
  await running.stop();
});

test('429 holds up that method in that channel for as long as told, and nothing else', async () => {
  const running = await startTestBot({ slack, bot });
  const started = Date.now();
  let limited = true;
  const times = new Map<string, number>();
  slack.fail = ({ method, args }) => {
    if (method !== 'chat.postMessage') return null;
    if (limited && args['channel'] === 'C1') {
      limited = false;
      return { status: 429, headers: { 'retry-after': '1' } };
    }
    times.set(args['channel'] ?? '', Date.now() - started);
    return null;
  };
  wanted = [message('table:1', 'one'), message('table:2', 'two', { kind: 'channel', channel: 'C2' })];
  await show(running);
  expect(await running.settled()).toBe(true);
  expect(times.get('C2')).toBeLessThan(900);
  expect(times.get('C1')).toBeGreaterThanOrEqual(1000);
  await running.stop();
});

test('an archived channel stops the notice and says so once; being invited back tries again', async () => {
  const lines: string[] = [];
  const running = await startTestBot({
    slack,
    bot,
    onLog: (line) => lines.push(line),
  });
  slack.fail = ({ method }) => (method === 'chat.postMessage' ? { ok: false, error: 'is_archived' } : null);
  wanted = [message('table:1', 'table')];
  await show(running);
  expect(await running.settled()).toBe(true);
  wanted = [message('table:1', 'table again')];
  await show(running);
  await running.settled();
  expect(givenUp(lines)).toMatchObject([{ key: 'table:1', channel: 'C1', error: 'is_archived' }]);
  slack.fail = null;
  await sendEvent(running.url, { type: 'member_joined_channel', user: 'U0BOT', channel: 'C1' });
  expect(await running.settled()).toBe(true);
  expect(standing()).toEqual(['table again']);
  await running.stop();
});

test('a message somebody deleted is posted anew when it changes', async () => {
  const running = await startTestBot({ slack, bot });
  wanted = [message('table:1', 'table')];
  await show(running);
  await running.settled();
  const [posted] = slack.messages;
  if (posted) posted.deleted = true;
  wanted = [message('table:1', 'table, changed')];
  await show(running);
  await running.settled();
  expect(standing()).toEqual(['table, changed']);
  await running.stop();
});

test('blocks that Slack refuses are shown as the text that stands alone', async () => {
  const running = await startTestBot({ slack, bot });
  slack.fail = ({ args }) =>
    args['blocks']?.includes('divider') ? { ok: false, error: 'invalid_blocks' } : null;
  wanted = [
    {
      kind: 'message',
      key: 'table:1',
      place: { kind: 'channel', channel: 'C1' },
      message: { text: 'the table', blocks: [{ type: 'divider' }] },
    },
  ];
  await show(running);
  expect(await running.settled()).toBe(true);
  expect(standing()).toEqual(['the table']);
  await running.stop();
});

test('a direct notice opens the direct messages; home tab, private word and reaction are shown', async () => {
  const running = await startTestBot({ slack, bot });
  wanted = [
    message('ask:7', 'please roast', { kind: 'direct', person: 'U3BRAM' }),
    { kind: 'home', key: 'home:U1', person: 'U1', view: { type: 'home', blocks: [] } },
    {
      kind: 'private',
      key: 'which:1',
      channel: 'C1',
      threadTs: '5.0',
      person: 'U2',
      message: { text: 'which cup?', blocks: [] },
    },
    { kind: 'reaction', key: 'mark:1', channel: 'C1', ts: '5.1', name: 'eyes' },
  ];
  await show(running);
  await running.settled();
  expect(slack.messages).toMatchObject([{ channel: 'DU3BRAM', text: 'please roast' }]);
  expect(slack.callsOf('views.publish')[0]?.args).toMatchObject({ user_id: 'U1' });
  expect(slack.callsOf('chat.postEphemeral')[0]?.args).toMatchObject({ user: 'U2', thread_ts: '5.0' });
  wanted = [{ kind: 'reaction', key: 'mark:1', channel: 'C1', ts: '5.1', name: 'ear' }];
  await show(running);
  await running.settled();
  expect(slack.callsOf('reactions.add').map(({ args }) => args['name'])).toEqual(['eyes', 'ear']);
  expect(slack.callsOf('reactions.remove').map(({ args }) => args['name'])).toEqual(['eyes']);
  expect(slack.callsOf('chat.postEphemeral')).toHaveLength(1);
  await running.stop();
});

test('a picture is drawn and uploaded once, and never holds its message up', async () => {
  let drawn = 0;
  let broken = true;
  const running = await startTestBot({
    slack,
    bot,
    more: {
      drawPicture: async () => {
        if (broken) throw new Error('no pencil');
        drawn += 1;
        return Buffer.from('png');
      },
    },
  });
  const withPicture = (text: string): Notice => ({
    kind: 'message',
    key: 'tally:1',
    place: { kind: 'channel', channel: 'C1' },
    message: { text, blocks: [] },
    picture: { drawing: { bars: [1, 2] }, altText: 'bars', title: 'Tally' },
  });
  wanted = [withPicture('7 of 9')];
  await show(running);
  await expect.poll(standing).toEqual(['7 of 9']);
  broken = false;
  expect(await running.settled()).toBe(true);
  expect(slack.messages[0]?.blocks).toContain('slack_file');
  wanted = [withPicture('8 of 9')];
  await show(running);
  await running.settled();
  expect(standing()).toEqual(['8 of 9']);
  expect(drawn).toBe(1);
  expect(slack.callsOf('upload')).toHaveLength(1);
  await running.stop();
});

test('a file is shared once, even when the connection is cut after Slack shared it', async () => {
  const running = await startTestBot({ slack, bot });
  let cuts = 1;
  slack.failAfter = ({ method, args }) => {
    if (method !== 'files.completeUploadExternal' || !args['channel_id'] || cuts === 0) return null;
    cuts -= 1;
    return { status: 0, cut: true };
  };
  wanted = [
    {
      kind: 'file',
      key: 'sheet:1',
      place: { kind: 'channel', channel: 'C1' },
      file: {
        name: 'table.csv',
        title: 'Table',
        comment: 'The table',
        content: { kind: 'text', text: 'a,b' },
      },
    },
  ];
  await show(running);
  expect(await running.settled()).toBe(true);
  await show(running);
  await running.settled();
  expect(slack.messages).toHaveLength(1);
  expect(slack.callsOf('upload')).toHaveLength(1);
  await running.stop();
});

test('replies written while the bot had lost sight of its message are read when it is found again', async () => {
  const seen: string[] = [];
  const running = await startTestBot({
    slack,
    bot: {
      ...bot,
      received: async (_, received) => {
        seen.push(JSON.stringify(received));
        return null;
      },
    },
  });
  let cuts = 1;
  slack.failAfter = ({ method, args }) => {
    if (method !== 'chat.postMessage' || cuts === 0) return null;
    cuts -= 1;
    const parent = slack.messages.find(({ text }) => text === args['text']);
    slack.messages.push({
      ts: '9999999999.000001',
      channel: 'C1',
      text: 'lemon',
      blocks: '[]',
      ...(parent ? { thread_ts: parent.ts } : {}),
    });
    return { status: 0, cut: true };
  };
  slack.fail = ({ method, args }) => {
    if (method !== 'conversations.replies') return null;
    const replies = slack.messages.filter((one) => one.thread_ts === args['ts']);
    return { ok: true, messages: replies.map((one) => ({ ...one, user: 'U2NOOR' })) };
  };
  wanted = [message('cup:1', 'cup A')];
  await show(running);
  expect(await running.settled()).toBe(true);
  expect(seen.filter((body) => body.includes('lemon'))).toHaveLength(1);
  await running.stop();
});
