import type { KnownBlock } from '@slack/types';
import type { HouseFacts } from '../../domain/house/house-facts.js';
import { formatBp, formatMoney } from '../../domain/measure/hundredths.js';
import { counted, plainList } from '../../domain/measure/plain-list.js';
import { formatWeight } from '../../domain/measure/weight.js';
import type { ProductionNote } from '../../domain/production/production-note.js';
import type { RoastGroupNote } from '../../domain/production/roast-groups.js';
import { button, buttons, context } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/notice.js';

/** What production weighs and pays, one short line each, mrkdwn. */
export function productionLines(note: ProductionNote, house: HouseFacts): readonly string[] {
  const weight = (mg: number) => formatWeight(mg, house.unitSystem);
  return [
    `*${weight(note.finishedMg)} of finished blend*${note.preview ? ' (preview: only poured so far)' : ''}`,
    ...note.groups.flatMap((group) => groupLines(group, weight)),
    joinLine(note, weight),
    `In the blend: ${note.roasted.map((part) => `${mrkdwn(part.name)} ${weight(part.mg)}`).join(' + ')}. Weigh to within ${weight(note.weighWithinMg)}.`,
    costLine(note, house),
    `To rebuild the cup: ${scoopWords(note)}.`,
  ];
}

function namesOf({ coffees }: RoastGroupNote): string {
  return mrkdwn(plainList(coffees.map((coffee) => coffee.name)));
}

function groupLines(group: RoastGroupNote, weight: (mg: number) => string): readonly string[] {
  const names = namesOf(group);
  const how = group.coffees.length > 1 ? 'joined green' : 'on its own';
  const loads =
    group.charge.loads > 1 ? `${group.charge.loads} equal loads of ${weight(group.loadMg)}` : `one load`;
  const drum = `, ${mrkdwn(group.charge.drum.name)}`;
  const head = `• ${names}, ${how}: *${weight(group.charge.greenMg)} green* in ${loads}${drum} → ${weight(group.charge.roastedMg)} roasted (${lossWords(group)})`;
  if (group.coffees.length < 2) return [head];
  const load = group.perLoad.map((part) => `${mrkdwn(part.name)} ${weight(part.mg)}`);
  return [head, `   each load: ${load.join(' + ')}`];
}

/** The loss used and how far the next load may stray from it, where the house has measured it. */
function lossWords({ lossBp, measured, lossFrom }: RoastGroupNote): string {
  const loss = `loss ${formatBp(lossBp)}`;
  if (!measured) return lossFrom === 'group' ? `${loss}, measured` : loss;
  const range = `${formatBp(measured.nextLowBp).replace(' %', '')}–${formatBp(measured.nextHighBp)}`;
  return `${loss} from ${counted(measured.batches, 'roast')} here, the next one ${range}`;
}

/** What is weighed together after roasting: one weight for each roast group. */
function joinLine(note: ProductionNote, weight: (mg: number) => string): string {
  const parts = note.groups.map((group) => `${namesOf(group)} ${weight(group.roastedMg)}`);
  if (parts.length < 2) return 'Nothing is joined roasted.';
  return `Join roasted: ${parts.join(' + ')} = ${weight(note.finishedMg)}`;
}

function costLine(note: ProductionNote, house: HouseFacts): string {
  if (!note.cost.ok)
    return `Cost: not known yet, the green price of ${mrkdwn(plainList(note.cost.priceMissing))} is missing.`;
  const money = (cents: number) => formatMoney(cents, house.currency);
  const { perKgCents, perBagCents, marginBp, pricePerBagCents } = note.cost.cost;
  return `Cost ${money(perKgCents)} per kg, ${money(perBagCents)} per ${formatWeight(house.bagMg, house.unitSystem)} bag; at ${formatBp(marginBp)} margin a bag sells for ${money(pricePerBagCents)}.`;
}

function scoopWords(note: ProductionNote): string {
  const { scoops, worstErrorPoints } = note.scoops;
  const named = note.roasted.map((part, index) => `${scoops[index] ?? 0} of ${mrkdwn(part.name)}`);
  const error = worstErrorPoints < 0.05 ? 'exact' : `within ${worstErrorPoints.toFixed(1)} points`;
  return `scoops ${plainList(named)} (${error})`;
}

/** What can still be done with a decided table. */
export type ProductionNext = {
  readonly tastingId: number;
  readonly recipeId: number;
  readonly recipeName: string;
  /** The winner: weighed before it was tasted, only poured so far, or none. */
  readonly winner: 'weighed' | 'poured' | 'none';
  /** Some of the blend's coffees are roasted together. */
  readonly joinedGreen: boolean;
  readonly costKnown: boolean;
  /** Who signed it off, and the version of the recipe that it is now. */
  readonly signed: { readonly by: string; readonly version: number } | null;
};

/** Blocks of ours at the foot of a digest begin so: signing off replaces them and nothing else. */
const OURS = 'after-digest';

/** The buttons under a digest: sign off or confirm, record the roast, and what production asks next. */
function productionActions(next: ProductionNext): readonly KnownBlock[] {
  if (next.winner === 'none') return [];
  const tasting = { tasting: next.tastingId };
  const first =
    next.winner === 'poured'
      ? [button('Book it as a weighed blend', 'pour.book', tasting, { style: 'primary' })]
      : next.signed === null
        ? [button('Make it the recipe’s next version', 'table.sign', tasting, { style: 'primary' })]
        : [];
  const rows = buttons(
    ...first,
    ...(next.joinedGreen && next.winner === 'weighed'
      ? [button('Roasted this blend', 'table.roasted', { recipe: next.recipeId, ...tasting })]
      : []),
    button('If a coffee runs out', 'table.runsout', tasting),
    ...(next.costKnown ? [button('Margin at a price', 'table.margin', tasting)] : []),
  );
  const { signed } = next;
  const recipe = mrkdwn(next.recipeName);
  const done = signed && `✔ Signed off by <@${signed.by}> as version ${signed.version} of *${recipe}*.`;
  return [...(done ? [context(done)] : []), ...rows].map((block, index) => ({
    ...block,
    block_id: `${OURS}-${index}`,
  }));
}

/** The digest with these buttons in place of those it had. */
export function withProductionActions<M extends Message>(message: M, next: ProductionNext): M {
  const kept = message.blocks.filter((block) => !block.block_id?.startsWith(OURS));
  return { ...message, blocks: [...kept, ...productionActions(next)] };
}
