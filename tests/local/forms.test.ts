import { expect, test } from 'vitest';
import { form, plain, refusedWith, withForms } from './opened-forms.js';
import { startRecorder } from './recording-bot.js';
import { ids, openWorkspace } from './workbench.js';

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
  expect(after?.state.values).toEqual({ grams: { g: { type: 'plain_text_input', value: '400' } } });
  expect(after?.hash).not.toBe(before?.hash);
  await expect(
    slack.views.update({ view_id, view: changed, hash: before?.hash ?? '' }),
  ).rejects.toMatchObject(refusedWith('hash_conflict'));
  await expect(slack.views.update({ view_id: 'V404', view: changed })).rejects.toMatchObject(
    refusedWith('not_found'),
  );
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

test('a select and a button in a form are tapped with the form’s state', async () => {
  const { people, open, last } = await withForms();
  const id = await open(
    form('Pick', {
      blocks: [
        {
          type: 'actions',
          block_id: 'blend',
          elements: [
            {
              type: 'static_select',
              action_id: 'b',
              options: [{ text: plain('Harbour Lamp'), value: 'r1' }],
            },
          ],
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
