import { z } from 'zod';
import { LEVELS, PROCESSES, ROLES } from '../domain/record/coffee.js';
import { KindRefusal } from '../errors.js';
import { mrkdwn } from '../notices/escape.js';
import { type CoffeeDraft, coffeeForm } from '../notices/shelf-form.js';
import { type CoffeeFacts, insertCoffee, listCoffees } from '../store/coffees.js';
import type { DbOrTransaction } from '../store/db.js';
import { inTransaction } from '../store/transaction.js';
import type { Answer } from './answer.js';
import type { Deps } from './deps.js';
import type { Tap, Typed } from './intake.js';
import { beginsFact, readCoffeeFacts } from './shelf-facts.js';
import { findNamed } from './shelf-find.js';
import { coffeeCard, shelfNow } from './shelf-show.js';
import { requireAllowed } from './standing.js';
import { readValue } from './values.js';
import type { Who } from './who.js';

const EXAMPLE =
  '/spoon shelf add "Nubosa Natural" from Costa Rica natural highlight alone loss 15% price 9.40';

const Draft = z.object({
  name: z.string().max(80).optional(),
  origin: z.string().max(80).optional(),
  process: z.enum(PROCESSES).optional(),
  role: z.enum(ROLES).optional(),
  level: z.enum(LEVELS).optional(),
  soldAlone: z.boolean().optional(),
  lossBp: z.number().int().optional(),
  greenPriceCents: z.number().int().optional(),
});

/** `shelf add …`: with a name and a role the coffee is added at once, with less its form opens. */
export async function addByWords(deps: Deps, typed: Typed, words: readonly string[]): Promise<Answer> {
  const end = nameEnd(words);
  const name = words.slice(0, end).join(' ');
  const { draft, left } = readCoffeeFacts(words.slice(end));
  if (left.length > 0) {
    throw new KindRefusal(
      'not understood',
      `I understood the name “${mrkdwn(name)}”, but not “${mrkdwn(left.join(' '))}”.`,
      `Like \`${EXAMPLE}\`, or \`/spoon shelf add\` for a form.`,
    );
  }
  if (name !== '' && draft.role) {
    const id = await addCoffee(deps, typed.who, { ...draft, name });
    return { message: await coffeeCard(deps, typed.who, id, `Added *${mrkdwn(name)}*.`) };
  }
  const { shelf } = await shelfNow(deps, typed.who);
  const known = { ...draft, ...(name === '' ? {} : { name: name.slice(0, 80) }) };
  return { form: coffeeForm(null, known, shelf.house) };
}

/** The form for a new coffee, with what is already known filled in. */
export async function addTap(deps: Deps, tap: Tap): Promise<Answer> {
  const draft = readValue(Draft, tap.value);
  const { shelf } = await shelfNow(deps, tap.who);
  return { form: coffeeForm(null, dropUndefined(draft), shelf.house) };
}

/** Adds a coffee with what is known of it and the usual for the rest; returns its id. */
export async function addCoffee(
  deps: Deps,
  who: Who,
  draft: CoffeeDraft & { readonly name: string },
): Promise<number> {
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change shelf');
    await requireFreeName(trx, who.workspace, draft.name, null);
    const coffee: CoffeeFacts = { ...PLAIN_COFFEE, ...draft };
    return insertCoffee(trx, { ...coffee, workspace: who.workspace, who: who.person, at: deps.clock.now() });
  });
}

/** @throws {KindRefusal} when the name is too long or another coffee in use has it */
export async function requireFreeName(
  db: DbOrTransaction,
  workspace: string,
  name: string,
  own: number | null,
): Promise<void> {
  if (name.length < 1 || name.length > 80) {
    throw new KindRefusal('not understood', 'A name has 1 to 80 characters.', null, 'name');
  }
  const found = findNamed(name, await listCoffees(db, workspace));
  if (found.kind !== 'one' || found.item.id === own) return;
  if (found.item.name.toLowerCase() !== name.toLowerCase()) return;
  throw new KindRefusal(
    'already there',
    `There is a coffee called ${mrkdwn(found.item.name)} already.`,
    'Give this one another name, or open that one: `/spoon shelf`.',
    'name',
  );
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

function dropUndefined(draft: z.output<typeof Draft>): CoffeeDraft {
  return Object.fromEntries(Object.entries(draft).filter(([, value]) => value !== undefined));
}
