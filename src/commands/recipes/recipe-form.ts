import type { ModalView } from '@slack/types';
import { formatBp } from '../../domain/measure/hundredths.js';
import type { Coffee } from '../../domain/record/coffee.js';
import { button, buttons } from '../../kit/blocks.js';
import { plain } from '../../kit/escape.js';
import { form, selectInput, selectManyInput, textInput } from '../../kit/form.js';

/** One line of the form: a coffee (id as text) and its part as typed. */
type RecipeRow = { readonly coffee: string; readonly part: string };

/** A blend as its form shows it. */
export type RecipeDraft = {
  /** Null for a new blend. */
  readonly recipe: number | null;
  readonly name: string;
  readonly rows: readonly RecipeRow[];
  /** Coffee ids of each roast group, with its measured loss where known. */
  readonly groups: readonly { readonly coffees: readonly number[]; readonly lossBp: number | null }[];
  readonly why: string;
};

/** As many coffees as a blend's form takes; more by words. */
export const MOST_ROWS = 8;
/** Roast groups of the form. */
export const GROUP_INPUTS = ['green', 'green2'] as const;

/** The form of a blend: its coffees with their parts, which are roasted together, and why it changes. */
export function recipeForm(draft: RecipeDraft, coffees: readonly Coffee[]): ModalView {
  const choices = coffees.map((coffee) => ({ value: String(coffee.id), label: plain(coffee.name) }));
  const rows = draft.rows.slice(0, MOST_ROWS).flatMap((row, index) => [
    selectInput(`coffee${index + 1}`, `Coffee ${index + 1}`, choices, {
      optional: index > 0,
      initial: row.coffee,
    }),
    textInput(`part${index + 1}`, `Its part, in % or whole parts`, {
      optional: index > 0,
      limit: 8,
      placeholder: index === 0 ? '50' : '',
      initial: row.part,
    }),
  ]);
  const groups = GROUP_INPUTS.slice(0, Math.max(1, draft.groups.length)).flatMap((name, index) => {
    const group = draft.groups[index];
    return [
      selectManyInput(
        name,
        index === 0 ? 'Joined green (roasted together)' : 'A second group joined green',
        choices,
        {
          optional: true,
          hint: 'All others are joined roasted. More groups by words: green a+b green c+d.',
          initial: group?.coffees.map(String),
        },
      ),
      textInput(`${name}Loss`, 'Measured loss of that group', {
        optional: true,
        limit: 8,
        placeholder: '15.3 %',
        ...(group && group.lossBp !== null ? { initial: formatBp(group.lossBp) } : {}),
      }),
    ];
  });
  return form(
    'recipe.form',
    draft.recipe === null ? 'Add a blend' : 'Change a blend',
    'Save',
    [
      textInput('name', 'Name', {
        limit: 80,
        placeholder: 'Harbour Lamp',
        initial: draft.name,
      }),
      ...rows,
      ...(draft.rows.length < MOST_ROWS
        ? buttons(button('One more coffee', 'recipe.row', draft.rows.length + 1))
        : []),
      ...groups,
      textInput('why', draft.recipe === null ? 'What is it for?' : 'Why does it change?', {
        optional: true,
        limit: 200,
        placeholder: 'Sweeter in milk',
        initial: draft.why,
      }),
    ],
    { recipe: draft.recipe, rows: draft.rows.length },
  );
}
