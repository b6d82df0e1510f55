import { z } from 'zod';
import { formatWeight } from '../domain/measure/format-weight.js';
import { parseMoney } from '../domain/measure/money.js';
import { parseBp } from '../domain/measure/percent.js';
import { type Coffee, LEVELS, PROCESSES, ROLES } from '../domain/record/coffee.js';
import { mrkdwn } from '../notices/escape.js';
import { type CoffeeDraft, coffeeForm } from '../notices/shelf-form.js';
import { updateCoffee } from '../store/coffees.js';
import { inTransaction } from '../store/transaction.js';
import type { Answer, SubmitAnswer } from './answer.js';
import type { Deps } from './deps.js';
import { chosen, written } from './form-values.js';
import type { FormState, Submission, Tap } from './intake.js';
import { addCoffee, requireFreeName } from './shelf-add.js';
import { MOST_LOSS_BP } from './shelf-facts.js';
import { requireShown } from './shelf-load.js';
import { settleShelf } from './shelf-settle.js';
import { coffeeCard, shelfNow } from './shelf-show.js';
import { requireAllowed } from './standing.js';
import { Id, readValue } from './values.js';
import type { Who } from './who.js';

export const OfCoffee = z.object({ coffee: Id.nullable() });

/** The form with a coffee's main facts. */
export async function changeTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { shelf } = await shelfNow(deps, tap.who);
  const { coffee } = requireShown(shelf, readValue(Id, tap.value));
  return { form: coffeeForm(coffee.id, coffee, shelf.house) };
}

/** Adds or changes a coffee from its form; what cannot be read is said beside its field. */
export async function coffeeSubmitted(deps: Deps, submission: Submission): Promise<SubmitAnswer> {
  const { who, form } = submission;
  const { coffee } = readValue(OfCoffee, form.privateMetadata);
  const read = readCoffeeForm(form);
  if ('errors' in read) return read;
  if (coffee === null) {
    const id = await addCoffee(deps, who, read.draft);
    return { message: await coffeeCard(deps, who, id, `Added *${mrkdwn(read.draft.name)}*.`) };
  }
  await changeCoffee(deps, who, coffee, read.draft);
  return { message: await coffeeCard(deps, who, coffee, 'Changed.') };
}

/** Changes some facts of a coffee; tables and asks that depend on them are worked out anew. */
export async function changeCoffee(
  deps: Deps,
  who: Who,
  coffeeId: number,
  draft: CoffeeDraft,
): Promise<Coffee> {
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change shelf');
    const { shelf, now } = await shelfNow(deps, who, trx);
    const { coffee } = requireShown(shelf, coffeeId);
    if (draft.name !== undefined) await requireFreeName(trx, who.workspace, draft.name, coffeeId);
    const changed = { ...coffee, ...draft };
    await updateCoffee(trx, who.workspace, changed);
    await settleShelf(trx, who, now);
    return changed;
  });
}

type ReadForm =
  | { readonly draft: CoffeeDraft & { readonly name: string } }
  | { readonly errors: Readonly<Record<string, string>> };

function readCoffeeForm(form: FormState): ReadForm {
  const errors: Record<string, string> = {};
  const [lossText, priceText] = [written(form, 'loss'), written(form, 'price')];
  const lossBp = lossText === '' ? null : parseBp(lossText);
  if (lossText !== '' && (lossBp === null || lossBp > MOST_LOSS_BP)) {
    errors['loss'] = 'Give a percentage up to 50, like 15.5 %.';
  }
  const greenPriceCents = priceText === '' ? null : parseMoney(priceText);
  if (priceText !== '' && greenPriceCents === null) errors['price'] = 'Give an amount, like 9.40.';
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

/** Green in store as it is typed into the form again. */
export function greenInStore(coffee: Coffee): string {
  return coffee.greenMg === null ? '' : formatWeight(coffee.greenMg, 'metric');
}
