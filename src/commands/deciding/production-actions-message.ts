import type { KnownBlock } from '@slack/types';
import { button, buttons, context } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';

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
  const signed = next.signed ? [context(signedWords(next.recipeName, next.signed))] : [];
  return [...signed, ...rows].map((block, index) => ({ ...block, block_id: `${OURS}-${index}` }));
}

/** The digest with these buttons in place of those it had. */
export function withProductionActions<M extends Message>(message: M, next: ProductionNext): M {
  const kept = message.blocks.filter((block) => !block.block_id?.startsWith(OURS));
  return { ...message, blocks: [...kept, ...productionActions(next)] };
}

function signedWords(recipe: string, { by, version }: { by: string; version: number }): string {
  return `✔ Signed off by <@${by}> as version ${version} of *${mrkdwn(recipe)}*.`;
}
