import type { ModalView } from '@slack/types';
import { expect, test } from 'vitest';
import { type BotAnswer, type Received, startRecorder } from './recording-bot.js';
import { ids, openWorkspace } from './workbench.js';

const plain = (text: string) => ({ type: 'plain_text', text }) as const;
const refusedWith = (error: string) => ({ data: { ok: false, error } });

function form(title: string, more: Partial<ModalView> = {}): ModalView {
  return {
    type: 'modal',
    callback_id: 'ask',
    private_metadata: 'A7',
    title: plain(title),
    submit: plain('Ask'),
    blocks: [
      {
        type: 'input',
        block_id: 'grams',
        label: plain('Roasted grams'),
        element: {
          type: 'number_input',
          action_id: 'g',
          is_decimal_allowed: false,
          min_value: '1',
          max_value: '5000',
        },
      },
      {
        type: 'input',
        block_id: 'why',
        optional: true,
        label: plain('Why'),
        element: {
          type: 'plain_text_input',
          action_id: 'w',
          initial_value: 'sold in the blend only',
          max_length: 40,
        },
      },
    ],
    ...more,
  };
}

/** A bot that answers submissions as told, and a person who may open forms. */
async function withForms(onSubmit: (one: Received) => BotAnswer = () => ({})) {
  const opened = await openWorkspace();
  const bot = await startRecorder(opened.workspace, (one) =>
    one.body['type'] === 'view_submission' ? onSubmit(one) : {},
  );
  const trigger = async (): Promise<string> => {
    await opened.people.shortcut({ as: ids.ines, callbackId: 'open' });
    return String(bot.received.at(-1)?.body['trigger_id']);
  };
  const open = async (view: ModalView = form('Ask for a roast')) =>
    (await opened.slack.views.open({ trigger_id: await trigger(), view })).view?.id ?? '';
  return { ...opened, bot, trigger, open, last: () => bot.received.at(-1)?.body };
}

test('a trigger opens one form, within its time', async () => {
  const { workspace, people, slack, trigger } = await withForms();
  const trigger_id = await trigger();
  const { view } = await slack.views.open({ trigger_id, view: form('Ask') });
  expect(view).toMatchObject({
    type: 'modal',
    callback_id: 'ask',
    private_metadata: 'A7',
    team_id: workspace.teamId,
    bot_id: workspace.botId,
    hash: expect.any(String),
    root_view_id: view?.id,
    state: { values: {} },
  });
  expect((await people.views(ids.ines)).stack.map((one) => one.id)).toEqual([view?.id]);
  expect((await people.views(ids.noor)).stack).toEqual([]);
  const open = (id: string) => slack.views.open({ trigger_id: id, view: form('Ask') });
  await expect(open(trigger_id)).rejects.toMatchObject(refusedWith('exchanged_trigger_id'));
  await expect(open('1.2.3')).rejects.toMatchObject(refusedWith('invalid_trigger_id'));
});

test('a trigger that is too old opens nothing', async () => {
  const { workspace, people, slack } = await openWorkspace({ triggerLifeMs: 50 });
  const bot = await startRecorder(workspace);
  await people.shortcut({ as: ids.ines, callbackId: 'open' });
  await new Promise((resolve) => setTimeout(resolve, 80));
  const trigger_id = String(bot.received[0]?.body['trigger_id']);
  await expect(slack.views.open({ trigger_id, view: form('Ask') })).rejects.toMatchObject(
    refusedWith('expired_trigger_id'),
  );
});

test('a form that does not fit is refused and leaves the trigger unused', async () => {
  const { slack, trigger } = await withForms();
  const trigger_id = await trigger();
  await expect(slack.views.open({ trigger_id, view: form('x'.repeat(25)) })).rejects.toMatchObject({
    data: {
      error: 'invalid_arguments',
      response_metadata: {
        messages: ['[ERROR] must be less than 25 characters [json-pointer:/view/title/text]'],
      },
    },
  });
  expect((await slack.views.open({ trigger_id, view: form('x'.repeat(24)) })).ok).toBe(true);
});

test('three forms stack, a fourth is refused', async () => {
  const { people, slack, trigger, open } = await withForms();
  await expect(slack.views.push({ trigger_id: await trigger(), view: form('Alone') })).rejects.toMatchObject(
    refusedWith('not_found'),
  );
  const root = await open();
  const push = async () => slack.views.push({ trigger_id: await trigger(), view: form('More') });
  const second = await push();
  expect(second.view).toMatchObject({ root_view_id: root, previous_view_id: root });
  await push();
  await expect(push()).rejects.toMatchObject(refusedWith('push_limit_reached'));
  expect((await people.views(ids.ines)).stack).toHaveLength(3);
});

test('a form is checked as Slack’s own form checks it, before anything is sent', async () => {
  const { people, open, bot } = await withForms();
  const id = await open();
  const submit = (grams: string | null, why = 'a') =>
    people.submit({ as: ids.ines, view: { id }, values: { grams: { g: grams }, why: { w: why } } });
  const before = bot.received.length;
  expect(await submit(null)).toMatchObject({
    ok: false,
    errors: { grams: 'Please complete this required field.' },
  });
  expect(await submit('0')).toMatchObject({
    ok: false,
    errors: { grams: expect.stringContaining('at least 1') },
  });
  expect(await submit('5001')).toMatchObject({
    ok: false,
    errors: { grams: expect.stringContaining('at most 5000') },
  });
  expect(await submit('1.5')).toMatchObject({ ok: false, errors: { grams: 'Please enter a valid number.' } });
  expect(await submit('5', 'x'.repeat(41))).toMatchObject({
    ok: false,
    errors: { why: expect.stringContaining('at most 40') },
  });
  expect(bot.received.length).toBe(before);
  expect(await submit('5000')).toEqual({ ok: true, status: 200, closed: true });
  expect((await people.views(ids.ines)).stack).toEqual([]);
});

test('a submission carries what was typed, and what was there from the start', async () => {
  const { people, open, last } = await withForms();
  const id = await open();
  await people.post('type', { as: ids.ines, view: { id }, values: { grams: { g: '400' } } });
  expect((await people.views(ids.ines)).stack[0]?.state.values['grams']).toEqual({
    g: { type: 'number_input', value: '400' },
  });
  await people.submit({ as: ids.ines, view: { id } });
  expect(last()).toMatchObject({
    type: 'view_submission',
    user: { id: ids.ines },
    response_urls: [],
    view: {
      id,
      callback_id: 'ask',
      private_metadata: 'A7',
      state: {
        values: {
          grams: { g: { type: 'number_input', value: '400' } },
          why: { w: { type: 'plain_text_input', value: 'sold in the blend only' } },
        },
      },
    },
  });
});

test('errors from the bot show under their fields and keep what was typed', async () => {
  const errors = { grams: 'The drum takes at least 1,500 g.' };
  const { people, open } = await withForms(() => ({ body: { response_action: 'errors', errors } }));
  const id = await open();
  const answer = await people.submit({ as: ids.ines, view: { id }, values: { grams: { g: '400' } } });
  expect(answer).toEqual({ ok: false, status: 200, errors, closed: false });
  const open1 = await people.views(ids.ines);
  expect(open1.errors).toEqual(errors);
  expect(open1.stack[0]?.state.values['grams']).toMatchObject({ g: { value: '400' } });
});

test.each([
  ['errors under a block that is no input', { response_action: 'errors', errors: { nowhere: 'a' } }],
  ['plain text', 'thanks'],
  ['a form that does not fit', { response_action: 'update', view: { type: 'modal', title: plain('') } }],
])('an answer with %s is trouble: the form stays as it was', async (_what, body) => {
  const { people, open } = await withForms(() => ({ body }));
  const id = await open();
  const answer = await people.submit({ as: ids.ines, view: { id }, values: { grams: { g: '400' } } });
  expect(answer).toMatchObject({ ok: false, closed: false });
  expect(await people.views(ids.ines)).toMatchObject({
    stack: [{ id }],
    notice: expect.stringContaining('trouble'),
  });
});

test('an answer may update, push or clear', async () => {
  const answers: BotAnswer[] = [
    { body: { response_action: 'update', view: form('Second') } },
    { body: { response_action: 'push', view: form('Third') } },
    { body: { response_action: 'clear' } },
  ];
  const { people, open } = await withForms(() => answers.shift() ?? {});
  const id = await open();
  const submit = async () => {
    const top = (await people.views(ids.ines)).stack.at(-1)?.id;
    return people.submit({ as: ids.ines, view: { id: top }, values: { grams: { g: '400' } } });
  };
  expect(await submit()).toMatchObject({ ok: true, closed: false });
  expect((await people.views(ids.ines)).stack).toMatchObject([{ id, title: { text: 'Second' } }]);
  expect(await submit()).toMatchObject({ ok: true, closed: false });
  expect((await people.views(ids.ines)).stack).toMatchObject([{ id }, { title: { text: 'Third' } }]);
  expect(await people.refused('/local/submit', { as: ids.ines, view: { id } })).toMatchObject({
    error: 'view_not_on_top',
  });
  expect(await submit()).toMatchObject({ ok: true, closed: true });
  expect((await people.views(ids.ines)).stack).toEqual([]);
});

test('an update keeps what was typed under the same two ids, and a stale hash is refused', async () => {
  const { people, slack, open } = await withForms();
  const view_id = await open();
  await people.post('type', {
    as: ids.ines,
    view: { id: view_id },
    values: { grams: { g: '400' }, why: { w: 'mine' } },
  });
  const before = (await people.views(ids.ines)).stack[0];
  const [grams] = form('Ask').blocks;
  const changed = form('Changed', { blocks: grams === undefined ? [] : [grams] });
  await slack.views.update({ view_id, view: changed, hash: before?.hash ?? '' });
  const after = (await people.views(ids.ines)).stack[0];
  expect(after?.state.values).toEqual({ grams: { g: { type: 'number_input', value: '400' } } });
  expect(after?.hash).not.toBe(before?.hash);
  await expect(
    slack.views.update({ view_id, view: changed, hash: before?.hash ?? '' }),
  ).rejects.toMatchObject(refusedWith('hash_conflict'));
  await expect(slack.views.update({ view_id: 'V404', view: changed })).rejects.toMatchObject(
    refusedWith('not_found'),
  );
});

test('an external id finds a form and is given once', async () => {
  const { slack, open, trigger } = await withForms();
  const id = await open(form('Ask', { external_id: 'ask-A7' }));
  const updated = await slack.views.update({
    external_id: 'ask-A7',
    view: form('Again', { external_id: 'ask-A7' }),
  });
  expect(updated.view?.id).toBe(id);
  const pushed = { trigger_id: await trigger(), view: form('Twin', { external_id: 'ask-A7' }) };
  await expect(slack.views.push(pushed)).rejects.toMatchObject(refusedWith('duplicate_external_id'));
});

test('a closed form is told only when asked for', async () => {
  const { people, open, bot } = await withForms();
  const quiet = await open();
  await people.post('close', { as: ids.ines, view: { id: quiet } });
  await people.settled();
  expect(bot.received.filter((one) => one.body['type'] === 'view_closed')).toEqual([]);
  const told = await open(form('Told', { notify_on_close: true }));
  await people.post('close', { as: ids.ines, view: { id: told } });
  await people.settled();
  expect(bot.received.at(-1)?.body).toMatchObject({
    type: 'view_closed',
    view: { id: told },
    is_cleared: false,
  });
});

test('a field that dispatches, and a button in a form, are tapped with the form’s state', async () => {
  const { people, open, last } = await withForms();
  const id = await open(
    form('Pick', {
      blocks: [
        {
          type: 'input',
          block_id: 'blend',
          dispatch_action: true,
          label: plain('Blend'),
          element: { type: 'external_select', action_id: 'b', min_query_length: 0 },
        },
        {
          type: 'actions',
          block_id: 'row',
          elements: [{ type: 'button', action_id: 'add', text: plain('Add') }],
        },
      ],
    }),
  );
  await people.tap({ as: ids.ines, view: { id }, action: { actionId: 'b', selected: 'r1' } });
  expect(last()).toMatchObject({
    container: { type: 'view', view_id: id },
    view: { id, state: { values: { blend: { b: { selected_option: { value: 'r1' } } } } } },
    actions: [{ action_id: 'b', selected_option: { value: 'r1' } }],
  });
  expect(last()).not.toHaveProperty('response_url');
  await people.tap({ as: ids.ines, view: { id }, action: { actionId: 'add' } });
  expect(last()).toMatchObject({
    view: { state: { values: { blend: { b: { selected_option: { value: 'r1' } } } } } },
  });
});

test('options are loaded from the bot while somebody types', async () => {
  const opened = await openWorkspace();
  const options = [{ text: plain('Harbour Lamp'), value: 'r1' }];
  const bot = await startRecorder(opened.workspace, (one) =>
    one.body['type'] === 'block_suggestion' ? { body: { options } } : {},
  );
  const { ts = '' } = await opened.slack.chat.postMessage({
    channel: ids.channel,
    text: 'a',
    blocks: [{ type: 'actions', elements: [{ type: 'external_select', action_id: 'b' }] }],
  });
  const message = { channel: ids.channel, ts };
  const loaded = await opened.people.options({
    as: ids.ines,
    message,
    action: { actionId: 'b' },
    query: 'harb',
  });
  expect(loaded).toEqual(options);
  expect(bot.received.at(-1)?.body).toMatchObject({
    type: 'block_suggestion',
    action_id: 'b',
    value: 'harb',
  });
});
