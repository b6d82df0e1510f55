import type { ModalView } from '@slack/types';
import { formatWeight } from '../../domain/measure/weight.js';
import type { Coffee } from '../../domain/record/coffee.js';
import type { CheckedRoast } from '../../domain/roast/check-roast.js';
import { formatShortDay, type LocalDay } from '../../domain/when/local-day.js';
import { button, buttons, say, section } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import { dateInput, form, radioInput, selectInput, textInput } from '../../kit/form.js';
import type { Message } from '../../kit/notice.js';
import { questionInputs, type RoastStart } from '../planning/roast-form.js';
import type { ShelfCoffee, ShelfHouse, ShownRoast } from './shelf-messages.js';

/** Puts roasted grams on the shelf: of one coffee, or of one that is picked in the form. */
export function putOnForm(
  coffee: Coffee | null,
  coffees: readonly Coffee[],
  house: ShelfHouse,
  start: (RoastStart & { readonly bestBy: string }) | null = null,
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
      ...questionInputs(start),
      textInput('roasted', 'Roasted weight', { limit: 20, placeholder: '500 g', initial: start?.roasted }),
      dateInput('day', 'Roast day', { initial: start?.day ?? house.today }),
      textInput('green', 'Green charged', {
        optional: true,
        limit: 20,
        placeholder: '590 g',
        hint: 'When you know it, I learn this coffee’s roast loss from it.',
        initial: start?.green,
      }),
      dateInput('bestBy', 'Best by', {
        optional: true,
        hint: `Leave empty for ${house.bestByDays} days after the roast day.`,
        initial: start?.bestBy,
      }),
    ],
    { coffee: coffee?.id ?? null },
  );
}

/** Value of the choice that strikes a roast. */
export const STRIKE = 'strike';

/** Corrects a roast on record, or strikes it. */
export function correctRoastForm(
  roast: Pick<ShownRoast, 'id' | 'greenMg' | 'roastedMg' | 'roastedOn'>,
  coffee: string,
  house: ShelfHouse,
  start: RoastStart | null = null,
): ModalView {
  const weight = (mg: number) => formatWeight(mg, house.unitSystem);
  const what = [
    { label: 'Correct it', value: 'correct' },
    { label: 'Strike it: it was never roasted', value: STRIKE },
  ];
  return form(
    'shelf.correct',
    'Correct a roast',
    'Save',
    [
      section(
        `*${mrkdwn(coffee)}*, roasted ${formatShortDay(roast.roastedOn)}. Green, shelf, loss and asks follow.`,
      ),
      ...questionInputs(start),
      radioInput('what', 'What is wrong with it?', what, { initial: 'correct' }),
      textInput('green', 'Green in', { limit: 20, initial: start?.green ?? weight(roast.greenMg) }),
      textInput('roasted', 'Roasted out', { limit: 20, initial: start?.roasted ?? weight(roast.roastedMg) }),
      dateInput('day', 'Roast day', { initial: start?.day ?? roast.roastedOn }),
    ],
    { roast: roast.id },
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

/** A roast said in words, as the button carries it that says that it is so. */
type SaidRoast = {
  readonly coffee: number;
  readonly mg: number;
  readonly green: number | null;
  readonly day: LocalDay;
  readonly drum: string | null;
};

/** Asks about a roast that was said in words before it counts: what looks like a slip, and in which drum it was. */
export function sureMessage(
  { odd, drums }: Extract<CheckedRoast, { readonly kind: 'question' }>,
  said: SaidRoast,
): Message {
  const sure = odd !== null;
  const choices = (said.drum === null ? drums : []).map((drum, index) =>
    button(`In the ${plain(drum)}`, `shelf.sure#${index}`, { ...said, drum, sure }),
  );
  const yes = button('Both weights are right', 'shelf.sure', { ...said, sure });
  const which = choices.length > 0 ? ' In which drum was it roasted?' : '';
  return say(
    `${mrkdwn(odd ?? '')}${which} Nothing is on record yet.`.trim(),
    ...buttons(
      ...(choices.length > 0 ? choices : [yes]),
      button('Put it in a form', 'shelf.roasted', { coffee: said.coffee }),
    ),
  );
}
