import type { ModalView } from '@slack/types';
import type { HouseFacts } from '../../domain/house/house-facts.js';
import { formatBp, formatMoney } from '../../domain/measure/hundredths.js';
import { counted, plainList } from '../../domain/measure/plain-list.js';
import { formatWeight } from '../../domain/measure/weight.js';
import type { KnownCost } from '../../domain/production/blend-cost.js';
import type { RoastGroupNote } from '../../domain/production/roast-groups.js';
import { formatRatio, percentages } from '../../domain/ratio/parts.js';
import type { Coffee } from '../../domain/record/coffee.js';
import type { Recipe } from '../../domain/record/recipe.js';
import { coffeeName } from '../../domain/record/table-setting.js';
import {
  archiveButton,
  button,
  buttons,
  context,
  header,
  menu,
  say,
  section,
  sections,
} from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import { form, selectInput, selectManyInput, textInput } from '../../kit/form.js';
import type { Message } from '../../kit/notice.js';

/** How a version came to be, ready to be shown. */
export type VersionShown = {
  readonly recipe: Recipe;
  readonly why: string;
  /** The tasting it came from, as it is called: "T4". */
  readonly tasting: string | null;
  readonly who: string;
  readonly day: string;
};

/** A blend with everything its card shows. */
export type RecipeShown = {
  readonly recipe: Recipe;
  readonly coffees: ReadonlyMap<number, Coffee>;
  readonly groups: readonly RoastGroupNote[];
  readonly cost: KnownCost;
  readonly latest: VersionShown;
  readonly versions: number;
};

/** "50/30/20". */
function recipeRatio(recipe: Recipe): string {
  return formatRatio(recipe.parts.map((part) => part.parts));
}

/** Names of the coffees in recipe order. */
function recipeCoffees(recipe: Recipe, coffees: ReadonlyMap<number, Coffee>): readonly string[] {
  return recipe.parts.map((part) => coffeeName(coffees, part.coffeeId));
}

/** One blend: parts, roast groups, cost, how it came to be; `done` says what just happened. */
export function recipeCardMessage(shown: RecipeShown, house: HouseFacts, done?: string): Message {
  const { recipe, latest } = shown;
  const name = mrkdwn(recipe.name);
  const ratio = recipeRatio(recipe);
  return {
    text: `${done ? `${done} ` : ''}${name}: ${ratio}, ${mrkdwn(plainList(recipeCoffees(recipe, shown.coffees)))}`,
    blocks: [
      ...(done ? [section(done)] : []),
      section(`*${name}* · ${ratio}`),
      ...sections(partLines(shown)),
      ...sections(joiningLines(shown.groups)),
      section(costLine(shown.cost, house)),
      ...onlyInBlends(shown),
      context(versionLine(latest)),
      ...buttons(
        button('Book a tasting', 'book.form', { recipe: recipe.id }, { style: 'primary' }),
        button('Change', 'recipe.change', recipe.id),
        ...(shown.versions > 1 ? [button(`${shown.versions} versions`, 'recipe.versions', recipe.id)] : []),
        button('All blends', 'recipe.list', {}),
        archiveButton('recipe', recipe, 'blend', 'Its versions and tastings stay.'),
      ),
    ],
  };
}

/** "Version 2, Tue 8 Dec, @ines, from T4: sweeter in milk". */
function versionLine(version: VersionShown): string {
  const from = version.tasting === null ? '' : `, from ${version.tasting}`;
  const who = /^[UW][A-Z0-9]+$/u.test(version.who) ? `, <@${version.who}>` : '';
  return `Version ${version.recipe.version}, ${version.day}${who}${from}: ${mrkdwn(version.why)}`;
}

function partLines({ recipe, coffees }: RecipeShown): readonly string[] {
  const shares = percentages(recipe.parts.map((part) => part.parts));
  return recipe.parts.map((part, index) => {
    const coffee = coffees.get(part.coffeeId);
    const share = (shares[index] ?? 0).toFixed(1);
    return `• ${share} % *${mrkdwn(coffee?.name ?? 'a coffee no longer listed')}*${coffee ? ` · ${coffee.role}` : ''}`;
  });
}

const LOSS_FROM: Readonly<Record<RoastGroupNote['lossFrom'], string>> = {
  group: 'measured for the group',
  coffees: 'from each coffee’s own',
  defaults: 'with the house’s defaults',
};

function joiningLines(groups: readonly RoastGroupNote[]): readonly string[] {
  const namesOf = (group: RoastGroupNote) => group.coffees.map((coffee) => coffee.name);
  const green = groups.filter((group) => group.coffees.length > 1);
  const roasted = groups.filter((group) => group.coffees.length === 1).flatMap(namesOf);
  return [
    ...green.map(
      (group) =>
        `Joined green: ${mrkdwn(namesOf(group).join(' + '))}, loss ${formatBp(group.lossBp)} (${LOSS_FROM[group.lossFrom]})`,
    ),
    ...(roasted.length > 0 ? [`Joined roasted: ${mrkdwn(plainList(roasted))}`] : []),
  ];
}

function costLine(known: KnownCost, house: HouseFacts): string {
  if (!known.ok)
    return `Cost: not known, the green price of ${mrkdwn(plainList([...new Set(known.priceMissing)]))} is missing.`;
  const { perKgCents, perBagCents, pricePerKgCents, marginBp } = known.cost;
  const money = (cents: number) => formatMoney(cents, house.currency);
  return `Cost: ${money(perKgCents)} per kg, ${money(perBagCents)} per ${formatWeight(house.bagMg, house.unitSystem)} bag; at ${formatBp(marginBp)} margin ${money(pricePerKgCents)} per kg.`;
}

function onlyInBlends({ recipe, coffees }: RecipeShown) {
  const names = recipe.parts.flatMap((part) => {
    const coffee = coffees.get(part.coffeeId);
    return coffee && !coffee.soldAlone ? [coffee.name] : [];
  });
  if (names.length === 0) return [];
  const exist = `${mrkdwn(plainList(names))} ${names.length > 1 ? 'exist' : 'exists'}`;
  return [context(`${exist} only in blends: booking a tasting asks for a roast alone.`)];
}

/** How a blend is added in words. */
export const RECIPE_EXAMPLE =
  '/spoon recipe add "Harbour Lamp" chirinos 50 kayanza 30 nubosa 20 green chirinos+kayanza';

const MOST_SHOWN = 12;

/** The blends of a house. */
export function recipeListMessage(recipes: readonly Recipe[], coffees: ReadonlyMap<number, Coffee>): Message {
  if (recipes.length === 0) return noRecipe(coffees.size > 0);
  const title = counted(recipes.length, 'blend');
  const lines = recipes.slice(0, MOST_SHOWN).map((recipe) => {
    const names = recipeCoffees(recipe, coffees).slice(0, 3);
    return `• *${mrkdwn(recipe.name)}* · ${recipeRatio(recipe)} · ${mrkdwn(names.join(', '))}`;
  });
  const more = recipes.length - MOST_SHOWN;
  return {
    text: `${title}: ${mrkdwn(plainList(recipes.slice(0, MOST_SHOWN).map((recipe) => recipe.name)))}`,
    blocks: [
      header(title),
      ...sections(lines),
      ...(more > 0 ? [context(`${counted(more, 'more')} in the menu.`)] : []),
      menu('recipe.open', 'Open a blend', recipes),
      ...buttons(button('Add a blend', 'recipe.add', {})),
    ],
  };
}

/** The history of a blend, newest first, with a way back. */
export function versionsMessage(versions: readonly VersionShown[]): Message {
  const [latest] = versions;
  const name = mrkdwn(latest?.recipe.name ?? '');
  const older = versions.slice(1, 100).map((version) => ({
    id: version.recipe.versionId,
    name: `Version ${version.recipe.version}: ${recipeRatio(version.recipe)}`,
  }));
  const lines = versions
    .slice(0, MOST_SHOWN)
    .map((version) => `• *${recipeRatio(version.recipe)}* · ${versionLine(version)}`);
  const count = counted(versions.length, 'version');
  return {
    text: `${name}: ${count}`,
    blocks: [
      section(`*${name}*: ${count}`),
      ...sections(lines),
      ...(older.length > 0 ? [menu('recipe.again', 'Take up an older version again', older)] : []),
      ...buttons(
        ...(latest ? [button('Back to the blend', 'recipe.open', latest.recipe.id)] : []),
        button('All blends', 'recipe.list', {}),
      ),
    ],
  };
}

function noRecipe(hasCoffees: boolean): Message {
  return say(
    hasCoffees
      ? 'There is no blend yet. Name its coffees and their parts.'
      : 'There is no blend yet, and no coffee to make one of. Add the coffees first.',
    context(`By words: \`${RECIPE_EXAMPLE}\``),
    ...buttons(
      hasCoffees
        ? button('Add a blend', 'recipe.add', {}, { style: 'primary' })
        : button('Add a coffee', 'shelf.add', {}, { style: 'primary' }),
    ),
  );
}

/** Coffees joined green, and the loss measured for them together. */
export type Group = { readonly coffeeIds: readonly number[]; readonly lossBp: number | null };

/** A blend as its form shows it. */
export type RecipeDraft = {
  /** Null for a new blend. */
  readonly recipe: number | null;
  readonly name: string;
  /** One for each line: a coffee (id as text) and its part as typed. */
  readonly rows: readonly { readonly coffee: string; readonly part: string }[];
  readonly groups: readonly Group[];
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
          initial: group?.coffeeIds.map(String),
        },
      ),
      textInput(`${name}Loss`, 'Measured loss of that group', {
        optional: true,
        limit: 8,
        placeholder: '15.3 %',
        initial: group && group.lossBp !== null ? formatBp(group.lossBp) : null,
      }),
    ];
  });
  return form(
    'recipe.form',
    draft.recipe === null ? 'Add a blend' : 'Change a blend',
    'Save',
    [
      textInput('name', 'Name', { limit: 80, placeholder: 'Harbour Lamp', initial: draft.name }),
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
