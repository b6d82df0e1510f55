import { z } from 'zod';
import { parseBp } from '../../domain/measure/hundredths.js';
import type { Coffee } from '../../domain/record/coffee.js';
import { mrkdwn } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { listCoffees } from '../../store/coffees.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import {
  chosen,
  type FormState,
  Id,
  readValue,
  type Submission,
  type Tap,
  written,
} from '../common/intake.js';
import { GROUP_INPUTS, MOST_ROWS, type RecipeDraft, recipeForm } from './recipe-messages.js';
import { joinParts, sharesOf } from './recipe-words.js';
import { saveRecipe, showRecipe } from './saved-recipe.js';

const OfRecipe = z.object({ recipe: Id.nullable(), rows: z.number().int().min(1).max(MOST_ROWS) });

/** One more line in the form; what was filled in stays. */
export async function rowTap(deps: Deps, tap: Tap): Promise<Answer> {
  if (!tap.form) return {};
  const { recipe, rows } = readValue(OfRecipe, tap.form.privateMetadata);
  const coffees = await listCoffees(deps.db, tap.who.workspace);
  const draft = readDraft(tap.form, recipe, Math.min(MOST_ROWS, rows + 1));
  return { replaceForm: recipeForm(draft, coffees) };
}

/** Keeps a blend from its form; what does not fit is said beside its field. */
export async function recipeSubmitted(deps: Deps, submission: Submission): Promise<SubmitAnswer> {
  const { who, form } = submission;
  const { recipe, rows } = readValue(OfRecipe, form.privateMetadata);
  const coffees = await listCoffees(deps.db, who.workspace);
  const draft = readDraft(form, recipe, rows);
  const errors = problemsIn(form, draft);
  if (Object.keys(errors).length > 0) return { errors };
  const { shares, saidSo } = readRows(draft, coffees);
  const groups = draft.groups.filter((group) => group.coffeeIds.length > 0);
  const joined = joinParts(shares, groups, coffees, 'green');
  const saved = { recipeId: recipe, name: draft.name, why: draft.why || null, ...joined };
  const { recipeId, newVersion } = await saveRecipe(deps, who, saved);
  const done =
    recipe === null
      ? `Added *${mrkdwn(draft.name)}*.`
      : newVersion
        ? 'Kept as a new version.'
        : 'Kept; its parts are as they were.';
  return showRecipe(deps, who, recipeId, done, saidSo);
}

function readDraft(form: FormState, recipe: number | null, rows: number): RecipeDraft {
  return {
    recipe,
    name: written(form, 'name'),
    rows: Array.from({ length: rows }, (_, index) => ({
      coffee: chosen(form, `coffee${index + 1}`)[0] ?? '',
      part: written(form, `part${index + 1}`),
    })),
    groups: GROUP_INPUTS.filter((name) => form.values.has(name)).map((name) => ({
      coffeeIds: chosen(form, name).map(Number),
      lossBp: parseBp(written(form, `${name}Loss`)),
    })),
    why: written(form, 'why'),
  };
}

function problemsIn(form: FormState, draft: RecipeDraft): Readonly<Record<string, string>> {
  const errors: Record<string, string> = {};
  const seen = new Set<string>();
  draft.rows.forEach(({ coffee, part }, index) => {
    if (coffee === '' && part !== '') errors[`coffee${index + 1}`] = 'Which coffee is this part of?';
    if (coffee !== '' && part === '') errors[`part${index + 1}`] = 'Give its part, like 50.';
    if (part !== '' && !/^\d{1,6}(?:[.,]\d{1,3})?\s*%?$/u.test(part)) {
      errors[`part${index + 1}`] = 'Give a number, like 50 or 12.5.';
    }
    if (coffee !== '' && seen.has(coffee))
      errors[`coffee${index + 1}`] = 'This coffee is in the blend already.';
    seen.add(coffee);
  });
  for (const name of GROUP_INPUTS) {
    const loss = written(form, `${name}Loss`);
    if (loss !== '' && (parseBp(loss) ?? 10_000) > 5000)
      errors[`${name}Loss`] = 'Give a percentage, like 15.3 %.';
  }
  return errors;
}

function readRows(draft: RecipeDraft, coffees: readonly Coffee[]) {
  const rows = draft.rows.filter((row) => row.coffee !== '');
  const named = rows.map((row) => {
    const coffee = coffees.find((known) => String(known.id) === row.coffee);
    if (!coffee) throw new UserError('One of these coffees is no longer on the shelf’s list.');
    return coffee;
  });
  if (named.length < 2) throw new UserError('A blend needs at least two coffees.', null, 'coffee2');
  return sharesOf(rows.map((row) => row.part.replace(',', '.')).join(' / '), named, null, 'part1');
}
