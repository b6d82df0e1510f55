import type { InputBlock, ModalView } from '@slack/types';
import { type HouseFacts, type ShownFact, showFacts } from '../../domain/house/house-facts.js';
import { capitalised } from '../../domain/measure/plain-list.js';
import { WEEKDAY_NAMES } from '../../domain/when/local-day.js';
import { context, plainText } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import {
  type Choice,
  checkInput,
  form,
  INPUT,
  peopleInput,
  personInput,
  radioInput,
  textInput,
} from '../../kit/form.js';

/** The form of the first run: it asks what cannot be guessed, and nothing else. */
export function firstHouseForm(house: HouseFacts): ModalView {
  const facts = showFacts(house).filter(({ isAskedFirst }) => isAskedFirst);
  return form('house.first', 'Set up the house', 'Save', facts.map(factInput));
}

/** The form of one fact, with where its default comes from. */
export function factForm(fact: ShownFact): ModalView {
  const source = fact.source === null ? [] : [context(`Default: ${mrkdwn(fact.source)}`)];
  return form('house.fact', 'Change the house', 'Save', [factInput(fact), ...source], { fact: fact.name });
}

/** The input for one fact: people and days to tap, two-way choices to tap, words for the rest. */
function factInput(fact: ShownFact): InputBlock {
  const { name, input, filledIn } = fact;
  const label = input.question ?? capitalised(fact.label);
  const [initial] = filledIn ?? [];
  switch (input.kind) {
    case 'choices':
      return radioInput(name, label, input.choices ?? [], { initial });
    case 'person':
      return personInput(name, label, { initial });
    case 'people':
      return peopleInput(name, label, { optional: true, initial: filledIn });
    case 'weekdays':
      return checkInput(name, label, weekdays(), { initial: filledIn });
    case 'channel':
      return channelInput(name, label, input.hint ?? '', initial);
    case 'line':
    case 'lines':
      return wordsInput(fact, label);
  }
}

function wordsInput({ name, value, example, input, filledIn }: ShownFact, label: string): InputBlock {
  const lines = input.kind === 'lines';
  if (filledIn === null) {
    const hint = `Now: ${plain(value)}. Like: ${plain(example)}.`;
    return textInput(name, label, { placeholder: plain(example), hint, lines, limit: 600 });
  }
  const initial = filledIn.join('\n');
  if (lines) return textInput(name, label, { lines, initial, hint: input.hint ?? '', limit: 600 });
  return textInput(name, label, { initial, placeholder: example, limit: 60 });
}

function weekdays(): readonly Choice[] {
  // The week of a roastery begins on Monday.
  return [1, 2, 3, 4, 5, 6, 0].map((day) => ({ label: WEEKDAY_NAMES[day] ?? '', value: String(day) }));
}

function channelInput(name: string, label: string, hint: string, initial: string | undefined): InputBlock {
  return {
    type: 'input',
    block_id: name,
    label: plainText(label, 200),
    hint: plainText(hint, 300),
    element: {
      type: 'channels_select',
      action_id: INPUT,
      ...(initial ? { initial_channel: initial } : {}),
    },
  };
}
