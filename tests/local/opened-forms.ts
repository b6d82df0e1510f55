import type { ModalView } from '@slack/types';
import { type BotAnswer, type Received, startRecorder } from './recording-bot.js';
import { ids, openWorkspace } from './workbench.js';

export const plain = (text: string) => ({ type: 'plain_text', text }) as const;
export const refusedWith = (error: string) => ({ data: { ok: false, error } });

export function form(title: string, more: Partial<ModalView> = {}): ModalView {
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
        element: { type: 'plain_text_input', action_id: 'g', min_length: 2, max_length: 4 },
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
export async function withForms(onSubmit: (one: Received) => BotAnswer = () => ({})) {
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
