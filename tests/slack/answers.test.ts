import { afterEach, beforeEach, expect, test } from 'vitest';
import type { Submission, Tap } from '../../src/commands/common/intake.js';
import { say } from '../../src/kit/blocks.js';
import { form, textInput } from '../../src/kit/form.js';
import { UserError } from '../../src/runtime/errors.js';
import {
  type FakeSlack,
  sendCommand,
  sendPayload,
  sendSigned,
  startFakeSlack,
  submitPayload,
  TEAM,
  tapPayload,
} from './support/fake-slack.js';
import { quietBot, startTestBot } from './support/test-bot.js';

let slack: FakeSlack;
beforeEach(async () => {
  slack = await startFakeSlack();
});
afterEach(() => slack.stop());

const FORM = form('book', 'Book a table', 'Book', [textInput('when', 'When')]);
const REFUSAL = new UserError('Only <@U3BRAM> answers this ask.');

test('a tap reaches the bot without what only tells equal buttons apart, and is answered where it happened', async () => {
  const taps: Tap[] = [];
  const bot = quietBot({
    tapped: async (_, tap) => {
      taps.push(tap);
      return { message: say('Accepted') };
    },
  });
  const running = await startTestBot({ slack, bot });
  const message = { ts: '2.000001', thread_ts: '1.000001' };
  expect((await sendPayload(running.url, tapPayload({ message }))).status).toBe(200);
  await running.settled();
  expect(taps).toMatchObject([
    { action: 'ask.accept', value: '{"ask":7}', channel: 'C1', messageTs: '2.000001', threadTs: '1.000001' },
  ]);
  expect(slack.callsOf('chat.postEphemeral')[0]?.args).toMatchObject({
    channel: 'C1',
    user: 'U1INES',
    thread_ts: '1.000001',
    text: 'Accepted',
  });
  await running.stop();
});

test('what was chosen in a select, several at once or a person, reaches the bot', async () => {
  const taps: Tap[] = [];
  const bot = quietBot({
    tapped: async (_, tap) => {
      taps.push(tap);
      return {};
    },
  });
  const running = await startTestBot({ slack, bot });
  const actions = [
    { type: 'static_select', action_id: 'cup', selected_option: { value: '12' } },
    { type: 'multi_static_select', action_id: 'cups', selected_options: [{ value: '1' }, { value: '2' }] },
    { type: 'users_select', action_id: 'who', selected_user: 'U4TEO' },
    { type: 'datepicker', action_id: 'day', selected_date: '2027-03-02' },
  ];
  for (const action of actions) await sendPayload(running.url, tapPayload({ actions: [action] }));
  expect(taps.map(({ selected }) => selected)).toEqual([['12'], ['1', '2'], ['U4TEO'], ['2027-03-02']]);
  expect(taps.map(({ value }) => value)).toEqual(['12', '1', 'U4TEO', '2027-03-02']);
  await running.stop();
});

test('an answer finds its way when the bot is not in the channel', async () => {
  const running = await startTestBot({
    slack,
    bot: quietBot({ tapped: async () => ({ message: say('Hi') }) }),
  });
  slack.fail = ({ method }) =>
    method === 'chat.postEphemeral' ? { ok: false, error: 'not_in_channel' } : null;
  await sendPayload(running.url, tapPayload());
  await running.settled();
  expect(slack.messages).toMatchObject([{ channel: 'DU1INES', text: 'Hi' }]);
  await running.stop();
});

test.each(['expired_trigger_id', 'exchanged_trigger_id', 'trigger_expired', 'trigger_exchanged'])(
  'a form that comes too late (%s) is kindly asked for again',
  async (error) => {
    const running = await startTestBot({ slack, bot: quietBot({ tapped: async () => ({ form: FORM }) }) });
    slack.fail = ({ method }) => (method === 'views.open' ? { ok: false, error } : null);
    expect((await sendPayload(running.url, tapPayload())).status).toBe(200);
    await running.settled();
    expect(slack.callsOf('chat.postEphemeral')[0]?.args['text']).toContain('Please tap or type it again');
    await running.stop();
  },
);

test('a refused tap in a form is shown on top of that form', async () => {
  const bot = quietBot({
    tapped: async () => {
      throw REFUSAL;
    },
  });
  const running = await startTestBot({ slack, bot });
  const view = { id: 'V9', type: 'modal', callback_id: 'note', blocks: [], state: { values: {} } };
  await sendPayload(running.url, tapPayload({ view, channel: undefined, message: undefined, container: {} }));
  await running.settled();
  expect(slack.callsOf('views.push')[0]?.args['view']).toContain('Only <@U3BRAM> answers this ask.');
  await running.stop();
});

test('a submitted form reaches the bot by its input names, empty ones included', async () => {
  const submissions: Submission[] = [];
  const bot = quietBot({
    submitted: async (_, submission) => {
      submissions.push(submission);
      return {};
    },
  });
  const running = await startTestBot({ slack, bot });
  const state = {
    values: {
      when: { input: { type: 'plain_text_input', value: null } },
      who: { input: { type: 'multi_users_select', selected_users: ['U1', 'U2'] } },
      blind: { input: { type: 'checkboxes', selected_options: [] } },
      at: { input: { type: 'datetimepicker', selected_date_time: 1_800_000_000 } },
    },
  };
  const answer = await sendPayload(running.url, submitPayload({ state }));
  expect(answer).toEqual({ status: 200, text: '' });
  expect([...(submissions[0]?.form.values ?? [])]).toEqual([
    ['when', null],
    ['who', ['U1', 'U2']],
    ['blind', []],
    ['at', '1800000000'],
  ]);
  await running.stop();
});

test.each([
  [
    'an error under its input',
    { errors: { when: 'Which day?' } },
    { response_action: 'errors', errors: { when: 'Which day?' } },
  ],
  ['another form on top', { pushForm: FORM }, { response_action: 'push' }],
  ['the form shown differently', { replaceForm: FORM }, { response_action: 'update' }],
  ['all forms closed', { closeAll: true }, { response_action: 'clear' }],
])('a submitted form is answered with %s', async (_, answer, expected) => {
  const running = await startTestBot({ slack, bot: quietBot({ submitted: async () => answer }) });
  const { text } = await sendPayload(running.url, submitPayload());
  expect(JSON.parse(text)).toMatchObject(expected);
  await running.stop();
});

test('a fault in a form stays in the form as an apology with a reference', async () => {
  const bot = quietBot({
    submitted: async () => {
      throw new TypeError('boom');
    },
  });
  const running = await startTestBot({ slack, bot });
  const { status, text } = await sendPayload(running.url, submitPayload());
  expect(status).toBe(200);
  expect(JSON.parse(text).errors.when).toMatch(/reference: [A-Z0-9]{6}/);
  await running.stop();
});

test('a command that takes long is acknowledged in time and answered later', async () => {
  const bot = quietBot({
    typed: async () => {
      await new Promise((resolve) => setTimeout(resolve, 2600));
      return { message: say('Here it is') };
    },
  });
  const running = await startTestBot({ slack, bot });
  const started = Date.now();
  expect((await sendCommand(running.url, 'digest T4')).status).toBe(200);
  expect(Date.now() - started).toBeLessThan(2950);
  await running.settled();
  expect(slack.callsOf('chat.postEphemeral')[0]?.args['text']).toBe('Here it is');
  await running.stop();
});

test('the same signed command sent again is refused, and done once', async () => {
  let typed = 0;
  const bot = quietBot({
    typed: async () => {
      typed += 1;
      return {};
    },
  });
  const running = await startTestBot({ slack, bot });
  const at = Math.floor(Date.now() / 1000);
  const body = new URLSearchParams({
    team_id: TEAM,
    channel_id: 'C1',
    user_id: 'U1',
    command: '/spoon',
    text: 'pour 2:1:1',
    trigger_id: 'one',
  }).toString();
  const send = () => sendSigned(running.url, body, 'application/x-www-form-urlencoded', { at });
  expect([(await send()).status, (await send()).status]).toEqual([200, 401]);
  expect(typed).toBe(1);
  await running.stop();
});

test('another workspace is not served', async () => {
  let tapped = 0;
  const bot = quietBot({
    tapped: async () => {
      tapped += 1;
      return {};
    },
  });
  const running = await startTestBot({ slack, bot });
  await sendPayload(running.url, tapPayload({ team: { id: 'T0OTHER' } }));
  await running.settled();
  expect(tapped).toBe(0);
  await running.stop();
});
