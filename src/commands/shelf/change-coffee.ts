import { z } from 'zod';
import { plainList } from '../../domain/measure/plain-list.js';
import type { Coffee } from '../../domain/record/coffee.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import {
  archiveCoffee,
  type CoffeeFacts,
  insertCoffee,
  listCoffees,
  updateCoffee,
} from '../../store/coffees.js';
import { type Db, inTransaction } from '../../store/db.js';
import { listRecipes } from '../../store/recipes.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import {
  Id,
  readValue,
  requireFreeName,
  type Submission,
  type Tap,
  type Typed,
  type Who,
} from '../common/intake.js';
import { requireAllowed } from '../common/standing.js';
import { replanShelf } from '../planning/plan-roasts.js';
import {
  beginsFact,
  type CoffeeDraft,
  coffeeForm,
  greenForm,
  readCoffeeFacts,
  readCoffeeForm,
  readGreenForm,
} from './coffee-facts.js';
import { changeShelf, coffeeCard, loadShelf, requireShown } from './shelf-view.js';

const EXAMPLE =
  '/spoon shelf add "Nubosa Natural" from Costa Rica natural highlight alone loss 15% price 9.40';

const Named = z.object({ name: z.string().max(80).optional() });

/** `shelf add …`: with a name and a role the coffee is added at once, with less its form opens. */
export async function addByWords(deps: Deps, typed: Typed, words: readonly string[]): Promise<Answer> {
  const end = nameEnd(words);
  const name = words.slice(0, end).join(' ');
  const { draft, left } = readCoffeeFacts(words.slice(end));
  if (left.length > 0) {
    throw new UserError(
      `I understood the name “${mrkdwn(name)}”, but not “${mrkdwn(left.join(' '))}”.`,
      `Like \`${EXAMPLE}\`, or \`/spoon shelf add\` for a form.`,
    );
  }
  if (name !== '' && draft.role) {
    const id = await addCoffee(deps, typed.who, { ...draft, name });
    return { message: await coffeeCard(deps, typed.who, id, `Added *${mrkdwn(name)}*.`) };
  }
  const shelf = await loadShelf(deps, typed.who);
  const known = { ...draft, ...(name === '' ? {} : { name: name.slice(0, 80) }) };
  return { form: coffeeForm(null, known, shelf.house) };
}

/** The form for a new coffee, with its name filled in when it is known. */
export async function addTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { name } = readValue(Named, tap.value);
  const shelf = await loadShelf(deps, tap.who);
  return { form: coffeeForm(null, name ? { name } : {}, shelf.house) };
}

/** Adds a coffee with what is known of it and the usual for the rest; returns its id. */
async function addCoffee(
  deps: Deps,
  who: Who,
  draft: CoffeeDraft & { readonly name: string },
): Promise<number> {
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change shelf');
    await requireFreeCoffeeName(trx, who, draft.name, null);
    const coffee: CoffeeFacts = { ...PLAIN_COFFEE, ...draft };
    return insertCoffee(trx, { ...coffee, workspace: who.workspace, who: who.person, at: deps.clock.now() });
  });
}

async function requireFreeCoffeeName(
  db: Db,
  { workspace }: Who,
  name: string,
  own: number | null,
): Promise<void> {
  const instead = 'Give this one another name, or open that one: `/spoon shelf`.';
  requireFreeName({ name, own, thing: 'coffee', like: null, instead }, await listCoffees(db, workspace));
}

const PLAIN_COFFEE: Omit<CoffeeFacts, 'name'> = {
  origin: null,
  process: null,
  role: 'base',
  level: 'medium',
  soldAlone: true,
  lossBp: null,
  greenPriceCents: null,
  greenMg: null,
  moistureBp: null,
  densityGPerL: null,
  screen: null,
  colour: null,
  flavourAdded: null,
  remarks: null,
};

/** The first words are the name; a name with spaces came in quotes, or ends where the first fact begins. */
function nameEnd(words: readonly string[]): number {
  if (words[0]?.includes(' ')) return 1;
  let end = 0;
  while (end < words.length && !(end > 0 && beginsFact(words, end))) end += 1;
  return end;
}

export const OfCoffee = z.object({ coffee: Id.nullable() });

/** The form with a coffee's main facts. */
export async function changeTap(deps: Deps, tap: Tap): Promise<Answer> {
  const shelf = await loadShelf(deps, tap.who);
  const { coffee } = requireShown(shelf, readValue(Id, tap.value));
  return { form: coffeeForm(coffee.id, coffee, shelf.house) };
}

/** Adds or changes a coffee from its form; what cannot be read is said beside its field. */
export async function coffeeSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
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
  return changeShelf(deps, who, async ({ trx, shelf, context }) => {
    const { coffee } = requireShown(shelf, coffeeId);
    if (draft.name !== undefined) await requireFreeCoffeeName(trx, who, draft.name, coffeeId);
    const changed = { ...coffee, ...draft };
    await updateCoffee(trx, who.workspace, changed);
    await replanShelf(trx, context);
    return changed;
  });
}

/** Takes a coffee out of use, unless a blend still stands on it. */
export async function archiveCoffeeOf(deps: Deps, who: Who, coffeeId: number): Promise<Answer> {
  return changeShelf(deps, who, async ({ trx, shelf, context }) => {
    const { coffee } = requireShown(shelf, coffeeId);
    const recipes = await listRecipes(trx, who.workspace);
    const blends = recipes.filter((recipe) => recipe.parts.some((part) => part.coffeeId === coffee.id));
    if (blends.length > 0) {
      const names = plainList(blends.map((recipe) => mrkdwn(recipe.name)));
      throw new UserError(
        `${mrkdwn(coffee.name)} is part of ${names}.`,
        'Change or archive the blend first: `/spoon recipe`.',
      );
    }
    await archiveCoffee(trx, who.workspace, coffee.id, context.now);
    await replanShelf(trx, context);
    return {
      message: say(
        `Archived *${mrkdwn(coffee.name)}*. Its roasts and tastings stay on record.`,
        ...buttons(button('Whole shelf', 'shelf.list', { from: 0 })),
      ),
    };
  });
}

/** The form with a coffee's further facts. */
export async function greenTap(deps: Deps, tap: Tap): Promise<Answer> {
  const shelf = await loadShelf(deps, tap.who);
  const { coffee } = requireShown(shelf, readValue(Id, tap.value));
  return { form: greenForm(coffee) };
}

/** Keeps the further facts; an empty field means that it is not known. */
export async function greenSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { coffee } = readValue(OfCoffee, form.privateMetadata);
  const read = readGreenForm(form);
  if ('errors' in read) return read;
  const changed = await changeCoffee(deps, who, coffee ?? 0, read.draft);
  return { message: await coffeeCard(deps, who, changed.id, 'Kept.') };
}
