import type { ModalView } from '@slack/types';
import { type Coffee, LEVELS } from '../../domain/record/coffee.js';
import { formatDay, type LocalDay } from '../../domain/when/local-day.js';
import { section } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import { dateInput, form, radioInput, selectInput, textInput } from '../../kit/form.js';
import { questionInputs, type RoastStart } from '../planning/roast-form.js';

/* Forms of roast asks: asking, offering another day, declining, and what came out. */

export const NEW_ASK_FORM = 'ask.new';
export const OFFER_FORM = 'ask.offer';
export const DECLINE_FORM = 'ask.decline';
export const ROASTED_FORM = 'ask.roasted';

/** What was understood of a typed ask, to start its form from. */
export type AskStart = {
  readonly coffeeId: number | null;
  readonly grams: string;
  readonly day: LocalDay | null;
  /** Why the form opened although words were typed. */
  readonly said: string | null;
};

/** Asks for one coffee alone, without a table. */
export function newAskForm(
  coffees: readonly Pick<Coffee, 'id' | 'name'>[],
  days: readonly LocalDay[],
  start: AskStart,
): ModalView {
  return form(NEW_ASK_FORM, 'Ask for a roast', 'Ask', [
    ...(start.said ? [section(mrkdwn(start.said))] : []),
    selectInput(
      'coffee',
      'Which coffee, alone',
      coffees.map((coffee) => ({ label: plain(coffee.name), value: String(coffee.id) })),
      start.coffeeId === null ? {} : { initial: String(start.coffeeId) },
    ),
    textInput('grams', 'How much, roasted', {
      limit: 20,
      placeholder: '400 g',
      initial: start.grams,
    }),
    selectInput(
      'day',
      'Roast day',
      days.map((day) => ({ label: formatDay(day), value: day })),
      start.day === null ? {} : { initial: start.day },
    ),
  ]);
}

/** Value of the choice that leaves the day to the picker. */
export const OTHER_DAY = 'other';
const MOST_DAYS = 8;

/** Another day: those that fit the table as choices, and any other day. */
export function offerForm(
  askId: number,
  coffee: string,
  fitting: readonly LocalDay[],
  others: readonly LocalDay[],
): ModalView {
  const choice = (day: LocalDay, fits: boolean) => ({
    label: fits ? formatDay(day) : `${formatDay(day)} (the table would have to move)`,
    value: day,
  });
  const days = [...fitting.map((day) => choice(day, true)), ...others.map((day) => choice(day, false))].slice(
    0,
    MOST_DAYS,
  );
  const none = fitting.length === 0 ? ' No other roast day leaves the rest it needs before the table.' : '';
  return form(
    OFFER_FORM,
    'Offer another day',
    'Offer',
    [
      section(`*${mrkdwn(coffee)}* alone.${none}`),
      radioInput('day', 'Day', [...days, { label: 'Another day, picked below', value: OTHER_DAY }]),
      dateInput('other', 'Another day', { optional: true }),
    ],
    { ask: askId },
  );
}

/** A reason helps the host to find another way; it may stay empty. */
export function declineForm(askId: number, coffee: string): ModalView {
  return form(
    DECLINE_FORM,
    'Decline the roast',
    'Decline',
    [
      section(`*${mrkdwn(coffee)}* alone. If another day would do, offer that instead.`),
      textInput('because', 'Why', { optional: true, limit: 300, placeholder: 'The drum is full that week' }),
    ],
    { ask: askId },
  );
}

/** What really went in and came out. */
export function roastedForm(
  askId: number,
  coffee: Pick<Coffee, 'name' | 'level'>,
  start: RoastStart,
): ModalView {
  return form(
    ROASTED_FORM,
    'What came out',
    'Record',
    [
      section(`*${mrkdwn(coffee.name)}* alone. Weigh it once it has cooled.`),
      ...questionInputs(start),
      textInput('green', 'Green in', { limit: 20, initial: start.green }),
      textInput('roasted', 'Roasted out', { limit: 20, placeholder: '405 g', initial: start.roasted }),
      dateInput('day', 'Roast day', { initial: start.day }),
      selectInput(
        'level',
        'Roast level',
        LEVELS.map((level) => ({ label: level, value: level })),
        { optional: true, initial: coffee.level },
      ),
      textInput('colour', 'Colour reading', {
        optional: true,
        limit: 8,
        hint: 'On the infrared scale of the house, 25 very dark to 95 very light.',
      }),
      textInput('remarks', 'Remarks', { optional: true, lines: true, limit: 500 }),
    ],
    { ask: askId },
  );
}
