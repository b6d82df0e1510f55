import type { InputBlock } from '@slack/types';
import type { Drum, FactName, HouseFacts } from '../../domain/house/house-facts.js';
import type { ShownFact } from '../../domain/house/parse-fact.js';
import { formatGrams, plainNumber } from '../../domain/measure/format-weight.js';
import { WEEKDAY_NAMES } from '../../domain/when/local-day.js';
import { plainText } from '../../kit/blocks.js';
import { plain } from '../../kit/escape.js';
import {
  type Choice,
  checkInput,
  INPUT,
  peopleInput,
  personInput,
  radioInput,
  textInput,
} from '../../kit/form.js';

/** Facts with two values, as choices whose value is what one would type. */
const CHOICES: ReadonlyMap<FactName, readonly Choice[]> = new Map<FactName, readonly Choice[]>([
  [
    'formatByDefault',
    [
      { label: 'Cupping', value: 'cupping', description: 'Steeped in bowls' },
      { label: 'Brewed', value: 'brewed', description: 'For large or new groups' },
    ],
  ],
  [
    'blindByDefault',
    [
      { label: 'Letters', value: 'no' },
      { label: 'Codes of three digits', value: 'yes' },
    ],
  ],
  [
    'unitSystem',
    [
      { label: 'Grams and kilograms', value: 'metric' },
      { label: 'Pounds and ounces beside them', value: 'pounds' },
    ],
  ],
]);

/** The input for one fact: people and days to tap, two-way choices to tap, words for the rest. */
export function factInput(fact: ShownFact, house: HouseFacts, optional = false): InputBlock {
  const label = `${fact.label.charAt(0).toUpperCase()}${fact.label.slice(1)}`;
  const choices = CHOICES.get(fact.name);
  if (choices) return radioInput(fact.name, label, choices, { initial: chosenWord(fact.name, house) });
  switch (fact.name) {
    case 'roasterPerson':
      return personInput(fact.name, 'Who roasts and answers roast asks', {
        optional,
        initial: house.roasterPerson,
      });
    case 'stewards':
      return peopleInput(fact.name, 'Stewards: may close, decide, cancel and change the house', {
        optional: true,
        initial: house.stewards,
      });
    case 'roastDays':
      return checkInput(fact.name, label, weekdays(), { optional, initial: house.roastDays.map(String) });
    case 'channel':
      return channelInput(fact.name, label, house.channel);
    case 'timeZone':
      return textInput(fact.name, label, {
        initial: house.timeZone,
        placeholder: 'Europe/Lisbon',
        limit: 60,
      });
    case 'drums':
      return textInput(fact.name, 'Drums, one per line', {
        lines: true,
        initial: house.drums.map(drumWords).join('\n'),
        hint: 'Like: 15 kg drum min 3.75 kg use 80 %. A sample roaster has “sample” in its name.',
        limit: 600,
      });
    default:
      return textInput(fact.name, label, {
        placeholder: plain(fact.example),
        hint: `Now: ${plain(fact.value)}. Like: ${plain(fact.example)}.`,
        lines: fact.name === 'closedDays',
        limit: 600,
      });
  }
}

/** A drum in the words that read back as the same drum. */
export function drumWords(drum: Drum): string {
  const capacity = formatGrams(drum.capacityMg);
  const name = drum.name.includes(capacity) ? drum.name : `${drum.name} ${capacity}`;
  const share = plainNumber(drum.usableShare * 100, 0);
  return `${name} min ${formatGrams(drum.minimumChargeMg)} use ${share} %`;
}

function weekdays(): readonly Choice[] {
  // The week of a roastery begins on Monday.
  return [1, 2, 3, 4, 5, 6, 0].map((day) => ({ label: WEEKDAY_NAMES[day] ?? '', value: String(day) }));
}

function chosenWord(name: FactName, house: HouseFacts): string {
  if (name === 'blindByDefault') return house.blindByDefault ? 'yes' : 'no';
  return name === 'unitSystem' ? house.unitSystem : house.formatByDefault;
}

function channelInput(name: string, label: string, initial: string | null): InputBlock {
  return {
    type: 'input',
    block_id: name,
    label: plainText(label, 200),
    hint: plainText('Where tastings are booked when no channel is said.', 300),
    element: {
      type: 'channels_select',
      action_id: INPUT,
      ...(initial ? { initial_channel: initial } : {}),
    },
  };
}
