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
import { button, buttons, context, header, menu, section, sections } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';

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

/** What of the house decides how a blend is shown. */
type RecipeHouse = Pick<HouseFacts, 'currency' | 'unitSystem' | 'bagMg'>;

/** "50/30/20". */
function recipeRatio(recipe: Recipe): string {
  return formatRatio(recipe.parts.map((part) => part.parts));
}

/** Names of the coffees in recipe order. */
function recipeCoffees(recipe: Recipe, coffees: ReadonlyMap<number, Coffee>): readonly string[] {
  return recipe.parts.map((part) => coffeeName(coffees, part.coffeeId));
}

/** Percentages of the finished blend with one decimal, adding up to exactly 100.0. */
function recipePercentages(recipe: Recipe): readonly number[] {
  return percentages(recipe.parts.map((part) => part.parts));
}

/** One blend: parts, roast groups, cost, how it came to be; `done` says what just happened. */
export function recipeCardMessage(shown: RecipeShown, house: RecipeHouse, done?: string): Message {
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
        button('Archive', 'recipe.archive', recipe.id, {
          style: 'danger',
          confirm: {
            title: 'Archive this blend?',
            text: `${plain(recipe.name)} leaves the lists. Its versions and tastings stay.`,
            yes: 'Archive',
            no: 'Keep',
          },
        }),
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
  const shares = recipePercentages(recipe);
  return recipe.parts.map((part, index) => {
    const coffee = coffees.get(part.coffeeId);
    const share = (shares[index] ?? 0).toFixed(1);
    return `• ${share} % *${mrkdwn(coffee?.name ?? 'a coffee no longer listed')}*${coffee ? ` · ${coffee.role}` : ''}`;
  });
}

function joiningLines(groups: readonly RoastGroupNote[]): readonly string[] {
  const green = groups.filter((group) => group.coffees.length > 1);
  const roasted = groups.filter((group) => group.coffees.length === 1);
  const from = new Map<RoastGroupNote['lossFrom'], string>([
    ['group', 'measured for the group'],
    ['coffees', 'from each coffee’s own'],
    ['defaults', 'with the house’s defaults'],
  ]);
  return [
    ...green.map(
      (group) =>
        `Joined green: ${mrkdwn(group.coffees.map((coffee) => coffee.name).join(' + '))}, loss ${formatBp(group.lossBp)} (${from.get(group.lossFrom) ?? ''})`,
    ),
    ...(roasted.length > 0
      ? [
          `Joined roasted: ${mrkdwn(plainList(roasted.flatMap((group) => group.coffees.map((coffee) => coffee.name))))}`,
        ]
      : []),
  ];
}

function costLine(known: KnownCost, house: RecipeHouse): string {
  if (!known.ok) {
    return `Cost: not known, the green price of ${mrkdwn(plainList([...new Set(known.priceMissing)]))} is missing.`;
  }
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
  const verb = names.length > 1 ? 'exist' : 'exists';
  return [
    context(`${mrkdwn(plainList(names))} ${verb} only in blends: booking a tasting asks for a roast alone.`),
  ];
}

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
  return {
    text: `${name}: ${counted(versions.length, 'version')}`,
    blocks: [
      section(`*${name}*: ${counted(versions.length, 'version')}`),
      ...sections(
        versions
          .slice(0, MOST_SHOWN)
          .map((version) => `• *${recipeRatio(version.recipe)}* · ${versionLine(version)}`),
      ),
      ...(older.length > 0 ? [menu('recipe.again', 'Take up an older version again', older)] : []),
      ...buttons(
        ...(latest ? [button('Back to the blend', 'recipe.open', latest.recipe.id)] : []),
        button('All blends', 'recipe.list', {}),
      ),
    ],
  };
}

function noRecipe(hasCoffees: boolean): Message {
  const sentence = hasCoffees
    ? 'There is no blend yet. Name its coffees and their parts.'
    : 'There is no blend yet, and no coffee to make one of. Add the coffees first.';
  return {
    text: sentence,
    blocks: [
      section(sentence),
      context(
        'By words: `/spoon recipe add "Harbour Lamp" chirinos 50 kayanza 30 nubosa 20 green chirinos+kayanza`',
      ),
      ...buttons(
        hasCoffees
          ? button('Add a blend', 'recipe.add', {}, { style: 'primary' })
          : button('Add a coffee', 'shelf.add', {}, { style: 'primary' }),
      ),
    ],
  };
}
