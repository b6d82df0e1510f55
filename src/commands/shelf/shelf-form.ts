import type { ModalView } from '@slack/types';
import { formatBp } from '../../domain/measure/hundredths.js';
import { formatWeight, plainNumber } from '../../domain/measure/weight.js';
import { type Coffee, LEVELS, PROCESSES } from '../../domain/record/coffee.js';
import { context } from '../../kit/blocks.js';
import { form, radioInput, selectInput, textInput } from '../../kit/form.js';
import type { ShelfHouse } from './shelf-messages.js';

/** What is known of a coffee when its form opens. */
export type CoffeeDraft = Partial<Omit<Coffee, 'id'>>;

/** The main facts of a coffee; `coffee` is its id when it is changed, null when it is new. */
export function coffeeForm(coffee: number | null, draft: CoffeeDraft, house: ShelfHouse): ModalView {
  const level = draft.level ?? 'medium';
  return form(
    'shelf.coffee',
    coffee === null ? 'Add a coffee' : 'Change a coffee',
    'Save',
    [
      textInput('name', 'Name', { limit: 80, placeholder: 'Nubosa Natural', initial: draft.name }),
      radioInput('role', 'What it does in a blend', ROLE_CHOICES, { initial: draft.role ?? 'base' }),
      radioInput('alone', 'Roasted and sold on its own?', ALONE_CHOICES, {
        initial: draft.soldAlone === false ? 'blends' : 'alone',
      }),
      radioInput('level', 'Roast level', LEVELS.map(choice), { initial: level }),
      textInput('origin', 'Origin', { optional: true, limit: 80, initial: draft.origin }),
      selectInput('process', 'Process', PROCESSES.map(choice), {
        optional: true,
        initial: draft.process,
      }),
      textInput('loss', 'Weight loss in the roast', {
        optional: true,
        limit: 12,
        placeholder: formatBp(house.lossDefaultsBp[level]),
        hint: 'Leave empty for the house’s figure. Roasts on record take over as they come.',
        initial: draft.lossBp ? formatBp(draft.lossBp) : null,
      }),
      textInput('price', `Green price per kg, in ${house.currency}`, {
        optional: true,
        limit: 14,
        placeholder: '9.40',
        initial: draft.greenPriceCents ? (draft.greenPriceCents / 100).toFixed(2) : null,
      }),
      context(
        'Moisture, density, screen, colour, flavours added and green in store: “More facts” on its card.',
      ),
    ],
    { coffee },
  );
}

const ROLE_CHOICES = [
  { value: 'base', label: 'Base', description: 'Body and familiar coffee flavour' },
  { value: 'sweetness', label: 'Sweetness', description: 'Sweetness and complexity' },
  { value: 'highlight', label: 'Highlight', description: 'The vivid top' },
];

const ALONE_CHOICES = [
  { value: 'alone', label: 'Yes' },
  { value: 'blends', label: 'No, only in blends', description: 'A tasting has to ask for a roast of it' },
];

function choice(value: string) {
  return { value, label: `${value.charAt(0).toUpperCase()}${value.slice(1)}` };
}

/** The further facts of a coffee, all optional. */
export function greenForm(coffee: Coffee): ModalView {
  const measured = (name: string, label: string, placeholder: string, shown: string | null, hint?: string) =>
    textInput(name, label, {
      optional: true,
      limit: 8,
      placeholder,
      initial: shown,
      ...(hint === undefined ? {} : { hint }),
    });
  const number = (value: number | null) => (value === null ? null : plainNumber(value, 1));
  const { moistureBp } = coffee;
  return form(
    'shelf.green',
    'More facts',
    'Save',
    [
      textInput('flavour', 'Anything added or infused?', {
        optional: true,
        limit: 200,
        placeholder: 'Cinnamon, infused by the producer',
        hint: 'Flavourings can carry nuts, milk or soya. Leave empty when nothing was; ask the producer of infused or fruit-fermented lots.',
        initial: coffee.flavourAdded,
      }),
      textInput('green', 'Green in store', {
        optional: true,
        limit: 20,
        placeholder: '24 kg',
        initial: coffee.greenMg === null ? null : formatWeight(coffee.greenMg, 'metric'),
      }),
      measured(
        'moisture',
        'Green moisture, %',
        '10.8',
        moistureBp === null ? null : plainNumber(moistureBp / 100, 2),
      ),
      measured('density', 'Bulk density, g/L', '720', number(coffee.densityGPerL)),
      measured('screen', 'Mean screen size', '16', number(coffee.screen)),
      measured(
        'colour',
        'Wanted roast colour',
        '63',
        number(coffee.colour),
        'On your infrared scale; higher is lighter.',
      ),
      textInput('remarks', 'Remarks', { optional: true, limit: 300, lines: true, initial: coffee.remarks }),
    ],
    { coffee: coffee.id },
  );
}
