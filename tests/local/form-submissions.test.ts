import { expect, test } from 'vitest';
import { form, plain, withForms } from './opened-forms.js';
import type { BotAnswer } from './recording-bot.js';
import { ids } from './workbench.js';

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
  expect(await submit('5')).toMatchObject({
    ok: false,
    errors: { grams: expect.stringContaining('at least 2') },
  });
  expect(await submit('50001')).toMatchObject({
    ok: false,
    errors: { grams: expect.stringContaining('at most 4') },
  });
  expect(await submit('50', 'x'.repeat(41))).toMatchObject({
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
    g: { type: 'plain_text_input', value: '400' },
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
          grams: { g: { type: 'plain_text_input', value: '400' } },
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
