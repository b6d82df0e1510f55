import { formatWeight } from '../../domain/measure/format-weight.js';
import { formatMoney } from '../../domain/measure/money.js';
import { formatBp } from '../../domain/measure/percent.js';
import { plainList } from '../../domain/measure/plain-list.js';
import type { KnownCost } from '../../domain/production/blend-cost.js';
import type { RoastGroupNote } from '../../domain/production/roast-groups.js';
import { button, buttons, context, section, sections } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';
import {
  type RecipeHouse,
  type RecipeShown,
  recipeCoffees,
  recipePercentages,
  recipeRatio,
  type VersionShown,
} from './recipe-view-message.js';

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
export function versionLine(version: VersionShown): string {
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
