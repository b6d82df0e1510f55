import type { ModalView } from '@slack/types';
import { button, buttons, context, section } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { dateInput, form, timeInput } from '../../kit/form.js';

export const MOVE_FORM = 'book.move';

export type MoveFormStart = {
  readonly tastingId: number;
  readonly name: string;
  readonly when: string;
  readonly day: string;
  readonly time: string;
  readonly zone: string;
  readonly movable: boolean;
};

/** Move a tasting or cancel it. */
export function moveForm(start: MoveFormStart): ModalView {
  const cancel = buttons(
    button(
      `Cancel ${start.name}`,
      'book.cancel',
      { tasting: start.tastingId },
      {
        style: 'danger',
        confirm: {
          title: `Cancel ${start.name}?`,
          text: 'Coffee that was set aside is free again, roast asks for it are taken back, and people are told.',
          yes: 'Cancel it',
          no: 'Keep it',
        },
      },
    ),
  );
  const when = section(`*${start.name}* is on ${mrkdwn(start.when)}.`);
  if (!start.movable)
    return form(MOVE_FORM, `Change ${start.name}`, null, [
      when,
      context('It has begun, so it can no longer be moved.'),
      ...cancel,
    ]);
  return form(
    MOVE_FORM,
    `Change ${start.name}`,
    'Move it',
    [
      when,
      dateInput('day', 'New day', { initial: start.day }),
      timeInput('time', 'New start', { initial: start.time, hint: `On the clocks of ${start.zone}` }),
      ...cancel,
    ],
    { tasting: start.tastingId },
  );
}
