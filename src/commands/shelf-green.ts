import { parseWeight } from '../domain/measure/parse-weight.js';
import { parseBp } from '../domain/measure/percent.js';
import { readNumber } from '../domain/ratio/parse-ratio.js';
import { type CoffeeDraft, greenForm } from '../notices/shelf-form.js';
import type { Answer, SubmitAnswer } from './answer.js';
import type { Deps } from './deps.js';
import { written } from './form-values.js';
import type { FormState, Submission, Tap } from './intake.js';
import { changeCoffee, greenInStore, OfCoffee } from './shelf-change.js';
import { requireShown } from './shelf-load.js';
import { coffeeCard, shelfNow } from './shelf-show.js';
import { Id, readValue } from './values.js';

/** The form with a coffee's further facts. */
export async function greenTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { shelf } = await shelfNow(deps, tap.who);
  const { coffee } = requireShown(shelf, readValue(Id, tap.value));
  return { form: greenForm(coffee, greenInStore(coffee)) };
}

/** Keeps the further facts; an empty field means that it is not known. */
export async function greenSubmitted(deps: Deps, submission: Submission): Promise<SubmitAnswer> {
  const { who, form } = submission;
  const { coffee } = readValue(OfCoffee, form.privateMetadata);
  const read = readGreenForm(form);
  if ('errors' in read) return read;
  const changed = await changeCoffee(deps, who, coffee ?? 0, read.draft);
  return { message: await coffeeCard(deps, who, changed.id, 'Kept.') };
}

type Measured = { readonly name: string; readonly low: number; readonly high: number; readonly say: string };

const DENSITY: Measured = {
  name: 'density',
  low: 300,
  high: 1200,
  say: 'Green coffee weighs 650 to 850 g per litre. Give it like 720.',
};
const SCREEN: Measured = {
  name: 'screen',
  low: 8,
  high: 22,
  say: 'Screens are in 1/64 inch, mostly 14 to 18. Give it like 16.',
};
const COLOUR: Measured = { name: 'colour', low: 1, high: 150, say: 'Give the reading as a number, like 63.' };

function readGreenForm(
  form: FormState,
): { readonly draft: CoffeeDraft } | { readonly errors: Readonly<Record<string, string>> } {
  const errors: Record<string, string> = {};
  const measured = (of: Measured): number | null => {
    const text = written(form, of.name);
    if (text === '') return null;
    const value = readNumber(text)?.value ?? null;
    if (value === null || value < of.low || value > of.high) errors[of.name] = of.say;
    return value;
  };
  const moisture = written(form, 'moisture');
  const moistureBp = moisture === '' ? null : parseBp(moisture);
  if (moisture !== '' && (moistureBp === null || moistureBp > 3000)) {
    errors['moisture'] = 'Green coffee holds 8 to 12.5 % water. Give it like 10.8.';
  }
  const green = written(form, 'green');
  const parsed = green === '' || green === '0' ? null : parseWeight(green);
  if (parsed && !parsed.ok) errors['green'] = parsed.message;
  const density = measured(DENSITY);
  const draft: CoffeeDraft = {
    flavourAdded: written(form, 'flavour') || null,
    greenMg: green === '0' ? 0 : parsed?.ok ? parsed.mg : null,
    moistureBp,
    densityGPerL: density === null ? null : Math.round(density),
    screen: measured(SCREEN),
    colour: measured(COLOUR),
    remarks: written(form, 'remarks') || null,
  };
  return Object.keys(errors).length > 0 ? { errors } : { draft };
}
