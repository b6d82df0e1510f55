import type { ModalView } from '@slack/types';
import { button, buttons, context, section } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import {
  checkInput,
  dateInput,
  form,
  peopleInput,
  radioInput,
  selectInput,
  textInput,
  timeInput,
} from '../../kit/form.js';

export const BOOK_FORM = 'book.form';

/** What the booking form starts with; ratios as they were typed. */
type BookFormStart = {
  readonly recipes: readonly { readonly id: number; readonly name: string; readonly ratio: string }[];
  readonly recipeId: number | null;
  readonly day: string | null;
  readonly time: string | null;
  readonly ratios: string;
  readonly people: readonly string[];
  readonly blind: boolean;
  readonly brewed: boolean;
  readonly tables: number;
  readonly brief: string;
  readonly channel: string;
  readonly zone: string;
  /** What was wrong with the words that led here, if anything. */
  readonly problem: string | null;
};

/** The booking as a form: everything a phone needs, nothing to remember. */
export function bookForm(start: BookFormStart): ModalView {
  const recipes = start.recipes.map((recipe) => ({
    label: recipe.name,
    value: String(recipe.id),
    description: recipe.ratio,
  }));
  const first = recipes.length === 1 ? recipes[0]?.value : undefined;
  const initial = start.recipeId === null ? first : String(start.recipeId);
  return form(
    BOOK_FORM,
    'Book a tasting',
    'Book',
    [
      ...(start.problem ? [context(mrkdwn(start.problem))] : []),
      selectInput('recipe', 'Which blend?', recipes, initial === undefined ? {} : { initial }),
      dateInput('day', 'Day', start.day ? { initial: start.day } : {}),
      timeInput('time', 'Start', {
        initial: start.time,
        hint: `On the clocks of ${start.zone}`,
      }),
      textInput('ratios', 'Other ratios to set beside it', {
        optional: true,
        lines: true,
        placeholder: '2:1:1',
        hint: 'One on each line, in the order of the recipe. The blend as it stands and every coffee alone are set anyway.',
        initial: start.ratios,
        limit: 500,
      }),
      peopleInput('people', 'Who comes?', { optional: true, initial: start.people }),
      checkInput('style', 'How', [{ label: 'Blind: codes instead of names', value: 'blind' }], {
        optional: true,
        initial: start.blind ? ['blind'] : [],
      }),
      radioInput(
        'format',
        'Served as',
        [
          { label: 'Cupping bowls', value: 'cupping' },
          { label: 'Brewed, for larger or new groups', value: 'brewed' },
        ],
        { initial: start.brewed ? 'brewed' : 'cupping' },
      ),
      textInput('tables', 'Tables set alike', { initial: String(start.tables), limit: 2 }),
      textInput('brief', 'What are you looking for?', {
        optional: true,
        placeholder: 'chocolate, heavy body, no sourness',
        hint: 'Shown beside liking, never mixed into it.',
        initial: start.brief,
        limit: 300,
      }),
    ],
    { channel: start.channel },
  );
}

export const MOVE_FORM = 'book.move';

type MoveFormStart = {
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
