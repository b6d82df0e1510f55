import type { ModalView } from '@slack/types';
import { formatWeight } from '../../domain/measure/weight.js';
import type { Coffee } from '../../domain/record/coffee.js';
import { formatShortDay } from '../../domain/when/local-day.js';
import { section } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import { dateInput, form, selectInput, textInput } from '../../kit/form.js';
import type { ShelfCoffee, ShelfHouse } from './shelf-messages.js';

/** Puts roasted grams on the shelf: of one coffee, or of one that is picked in the form. */
export function roastedForm(
  coffee: Coffee | null,
  coffees: readonly Coffee[],
  house: ShelfHouse,
  bestByDays: number,
): ModalView {
  const which = coffee
    ? section(`*${mrkdwn(coffee.name)}*`)
    : selectInput(
        'coffee',
        'Coffee',
        coffees.map(({ id, name }) => ({ label: plain(name), value: String(id) })),
      );
  return form(
    'shelf.roasted',
    'Put on the shelf',
    'Put on',
    [
      which,
      textInput('roasted', 'Roasted weight', { limit: 20, placeholder: '500 g' }),
      dateInput('day', 'Roast day', { initial: house.today }),
      textInput('green', 'Green charged', {
        optional: true,
        limit: 20,
        placeholder: '590 g',
        hint: 'When you know it, I learn this coffee’s roast loss from it.',
      }),
      dateInput('bestBy', 'Best by', {
        optional: true,
        hint: `Leave empty for ${bestByDays} days after the roast day.`,
      }),
    ],
    { coffee: coffee?.id ?? null },
  );
}

/** Takes roasted grams of one coffee off the shelf. */
export function takeForm(shown: ShelfCoffee, house: ShelfHouse): ModalView {
  const { coffee, lots } = shown;
  return form(
    'shelf.take',
    'Take off the shelf',
    'Take off',
    [
      section(`*${mrkdwn(coffee.name)}*`),
      ...(lots.length > 1
        ? [
            selectInput(
              'lot',
              'From which roast',
              lots.map(({ lot }) => ({
                label: `${formatShortDay(lot.roastedOn)}, ${formatWeight(lot.mg, house.unitSystem)} left`,
                value: String(lot.id),
              })),
              { initial: String(lots[0]?.lot.id ?? '') },
            ),
          ]
        : []),
      textInput('grams', 'How much', {
        optional: true,
        limit: 20,
        placeholder: '200 g',
        hint: 'Leave empty to take all of it.',
      }),
    ],
    { coffee: coffee.id },
  );
}
