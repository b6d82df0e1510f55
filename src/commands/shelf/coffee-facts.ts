import type { ModalView } from '@slack/types';
import { z } from 'zod';
import { formatBp, parseBp, parseMoney } from '../../domain/measure/hundredths.js';
import { formatWeight, parseWeight, plainNumber } from '../../domain/measure/weight.js';
import { readNumber } from '../../domain/ratio/parse-ratio.js';
import { type Coffee, LEVELS, PROCESSES, ROLES } from '../../domain/record/coffee.js';
import { context } from '../../kit/blocks.js';
import { form, radioInput, selectInput, textInput } from '../../kit/form.js';
import { chosen, type FormState, written } from '../common/intake.js';
import type { ShelfHouse } from './shelf-messages.js';

/** Loss the schema of a coffee allows, hundredths of a percent. */
const MOST_LOSS_BP = 5000;

/**
 * Reads `from Costa Rica natural highlight light alone loss 15 % price 9.40`, in any order. The origin runs
 * to the next word that says something else.
 */
export function readCoffeeFacts(words: readonly string[]): {
  readonly draft: CoffeeDraft;
  readonly left: readonly string[];
} {
  let draft: CoffeeDraft = {};
  const left: string[] = [];
  for (let at = 0; at < words.length; ) {
    const read = readFact(words, at);
    if (read) draft = { ...draft, ...read.draft };
    else left.push(words[at] ?? '');
    at += read?.used ?? 1;
  }
  return { draft, left };
}

/** Whether a word begins a fact, so that a name before it is over. Processes may be part of a name. */
export function beginsFact(words: readonly string[], at: number): boolean {
  const read = readFact(words, at);
  return read !== null && read.draft.process === undefined;
}

type Fact = { readonly draft: CoffeeDraft; readonly used: number };

function readFact(words: readonly string[], at: number): Fact | null {
  const word = lower(words[at]);
  const role = ROLES.find((name) => name === word);
  if (role) return { draft: { role }, used: 1 };
  const process = PROCESSES.find((name) => name === word);
  if (process) return { draft: { process }, used: 1 };
  const level = LEVELS.find((name) => name === word);
  if (level) return { draft: { level }, used: lower(words[at + 1]) === 'roast' ? 2 : 1 };
  if (word === 'alone') return { draft: { soldAlone: true }, used: 1 };
  if (word === 'sold' && lower(words[at + 1]) === 'alone') return { draft: { soldAlone: true }, used: 2 };
  if (word === 'blend-only' || word === 'blends-only') return { draft: { soldAlone: false }, used: 1 };
  if (word === 'only' && lower(words[at + 1]) === 'in') return { draft: { soldAlone: false }, used: 3 };
  if (word === 'loss') return readLoss(words, at);
  if (word === 'price') return readPrice(words, at);
  if (word === 'from' || word === 'origin') return readOrigin(words, at);
  return null;
}

function readLoss(words: readonly string[], at: number): Fact | null {
  const spaced = words[at + 2] === '%';
  const lossBp = parseBp(words[at + 1] ?? '');
  if (lossBp === null || lossBp > MOST_LOSS_BP) return null;
  return { draft: { lossBp }, used: spaced ? 3 : 2 };
}

function readPrice(words: readonly string[], at: number): Fact | null {
  const greenPriceCents = parseMoney((words[at + 1] ?? '').replace(/\/kg$/iu, ''));
  return greenPriceCents === null ? null : { draft: { greenPriceCents }, used: 2 };
}

function readOrigin(words: readonly string[], at: number): Fact | null {
  let end = at + 1;
  while (end < words.length && readFact(words, end) === null) end += 1;
  const origin = words
    .slice(at + 1, end)
    .join(' ')
    .slice(0, 80);
  return origin === '' ? null : { draft: { origin }, used: end - at };
}

function lower(word: string | undefined): string {
  return (word ?? '').toLowerCase().replace(/[.,;]+$/u, '');
}

/** What a form says, or what is wrong with it by input. */
type ReadForm<Draft> = { readonly draft: Draft } | { readonly errors: Readonly<Record<string, string>> };

/** Reads inputs that may be left empty; `wanted` is said beside one that could not be read. */
function optionalInputs(form: FormState) {
  const errors: Record<string, string> = {};
  const read = <Value>(name: string, parse: (text: string) => Value | null, wanted: string): Value | null => {
    const text = written(form, name);
    if (text === '') return null;
    const value = parse(text);
    if (value === null) errors[name] = wanted;
    return value;
  };
  return { errors, read };
}

/** A share up to a bound, in hundredths of a percent. */
function bpUpTo(most: number) {
  return (text: string) => {
    const bp = parseBp(text);
    return bp !== null && bp <= most ? bp : null;
  };
}

function numberWithin(low: number, high: number) {
  return (text: string) => {
    const value = readNumber(text)?.value ?? null;
    return value !== null && value >= low && value <= high ? value : null;
  };
}

/** Reads the form with the further facts; an empty field means that it is not known. */
export function readGreenForm(form: FormState): ReadForm<CoffeeDraft> {
  const { errors, read } = optionalInputs(form);
  const green = written(form, 'green');
  const parsed = green === '' || green === '0' ? null : parseWeight(green);
  if (parsed && !parsed.ok) errors['green'] = parsed.message;
  const density = read(
    'density',
    numberWithin(300, 1200),
    'Green coffee weighs 650 to 850 g per litre. Give it like 720.',
  );
  const draft: CoffeeDraft = {
    flavourAdded: written(form, 'flavour') || null,
    greenMg: green === '0' ? 0 : parsed?.ok ? parsed.mg : null,
    moistureBp: read('moisture', bpUpTo(3000), 'Green coffee holds 8 to 12.5 % water. Give it like 10.8.'),
    densityGPerL: density === null ? null : Math.round(density),
    screen: read(
      'screen',
      numberWithin(8, 22),
      'Screens are in 1/64 inch, mostly 14 to 18. Give it like 16.',
    ),
    colour: read('colour', numberWithin(1, 150), 'Give the reading as a number, like 63.'),
    remarks: written(form, 'remarks') || null,
  };
  return Object.keys(errors).length > 0 ? { errors } : { draft };
}

/** Reads the form with the main facts of a coffee. */
export function readCoffeeForm(form: FormState): ReadForm<CoffeeDraft & { readonly name: string }> {
  const { errors, read } = optionalInputs(form);
  const lossBp = read('loss', bpUpTo(MOST_LOSS_BP), 'Give a percentage up to 50, like 15.5 %.');
  const greenPriceCents = read('price', parseMoney, 'Give an amount, like 9.40.');
  const name = written(form, 'name');
  if (name === '') errors['name'] = 'Give the coffee a name.';
  if (Object.keys(errors).length > 0) return { errors };
  return {
    draft: {
      name,
      role: z.enum(ROLES).catch('base').parse(written(form, 'role')),
      level: z.enum(LEVELS).catch('medium').parse(written(form, 'level')),
      process: z
        .enum(PROCESSES)
        .nullable()
        .catch(null)
        .parse(chosen(form, 'process')[0] ?? null),
      soldAlone: written(form, 'alone') !== 'blends',
      origin: written(form, 'origin') || null,
      lossBp,
      greenPriceCents,
    },
  };
}

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
      selectInput('process', 'Process', PROCESSES.map(choice), { optional: true, initial: draft.process }),
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
  const measured = (
    name: string,
    label: string,
    look: { readonly placeholder: string; readonly initial: string | null; readonly hint?: string },
  ) => textInput(name, label, { optional: true, limit: 8, ...look });
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
      measured('moisture', 'Green moisture, %', {
        placeholder: '10.8',
        initial: moistureBp === null ? null : plainNumber(moistureBp / 100, 2),
      }),
      measured('density', 'Bulk density, g/L', { placeholder: '720', initial: number(coffee.densityGPerL) }),
      measured('screen', 'Mean screen size', { placeholder: '16', initial: number(coffee.screen) }),
      measured('colour', 'Wanted roast colour', {
        placeholder: '63',
        initial: number(coffee.colour),
        hint: 'On your infrared scale; higher is lighter.',
      }),
      textInput('remarks', 'Remarks', { optional: true, limit: 300, lines: true, initial: coffee.remarks }),
    ],
    { coffee: coffee.id },
  );
}
