import type { KnownBlock, ModalView } from '@slack/types';
import { counted, plainList } from '../../domain/measure/plain-list.js';
import { coffeeName, cupRatio, type TableSetting } from '../../domain/record/table-setting.js';
import { type Cup, cupName, tastingName } from '../../domain/record/tasting.js';
import type { Pour } from '../../domain/table/pour.js';
import { context, section } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { form, textInput } from '../../kit/form.js';
import type { Message } from '../../kit/notice.js';

export const POUR_FORM = 'pour.form';

/** Asks for a ratio, naming the coffees in their order. */
export function pourForm(setting: TableSetting): ModalView {
  const names = setting.recipe.parts.map((part) => coffeeName(setting.coffees, part.coffeeId));
  const open = setting.tasting.state === 'open';
  return form(
    POUR_FORM,
    open ? 'Pour a ratio' : 'Add a ratio',
    open ? 'Pour it' : 'Add it',
    [
      textInput('ratio', `Parts of ${names.join(', ')}`, {
        placeholder: names.length === 3 ? '3:2:1' : '3:2',
        limit: 120,
        hint: 'Parts or percentages, in this order; 0 leaves one out.',
      }),
      context(
        open
          ? 'Spooned together from the brewed cups: a quick look at a ratio, not yet a weighed blend.'
          : 'It is weighed and set on the table like the others.',
      ),
    ],
    { tasting: setting.tasting.id },
  );
}

/**
 * How to build the cup that was just added, and what it can be relied on for.
 *
 * @param seesCodes which bowl holds which coffee may be said: not to others than the host of a blind table
 */
export function pouredMessage(
  cup: Cup,
  setting: TableSetting,
  pour: Pour | null,
  saidSo: string | null,
  seesCodes: boolean,
): Message {
  const name = cupName(cup);
  const ratio = cupRatio(cup, setting.recipe);
  if (!pour) {
    const added = `Cup *${name}* is added to *${tastingName(setting.tasting)}*: ${ratio}, weighed.`;
    return message([added, ...(saidSo ? [mrkdwn(saidSo)] : [])], []);
  }
  const named = cup.parts.map(({ coffeeId }) => mrkdwn(coffeeName(setting.coffees, coffeeId)));
  const spoonfuls = pour.spoonfuls.map(
    (count, index) =>
      `${counted(count, 'spoonful')} of ${named[index] ?? ''}${seesCodes ? bowlOf(cup.parts[index]?.coffeeId, setting) : ''}`,
  );
  const error = Math.max(...pour.likelyErrorPoints, pour.scoops.worstErrorPoints);
  const lines = [
    `Cup *${name}*, ${ratio}: spoon together ${plainList(spoonfuls)}, ${pour.volumeMl} mL.`,
    ...(saidSo ? [mrkdwn(saidSo)] : []),
    ...pour.missing.map(
      (short) =>
        `⚠️ Too little of ${named[short.component] ?? ''} is left, by about ${short.ml} mL: brew one more bowl of it, or pour less of each in the same ratio.`,
    ),
  ];
  const left = pour.leftMl.map((ml, index) => `${ml} mL of ${named[index] ?? ''}`);
  return message(lines, [
    ...(pour.missing.length === 0 ? [`Enough is left: about ${plainList(left)} after it.`] : []),
    `Recorded as scooped. A share may be off by about ${error.toFixed(1)} points: a preview, so confirm it as a weighed blend.`,
    'Use a clean spoon for each bowl.',
  ]);
}

/** " (cup A)": the bowls to spoon from. */
function bowlOf(coffeeId: number | undefined, { cups }: TableSetting): string {
  const bowl = cups.find((one) => one.kind === 'component' && one.parts[0]?.coffeeId === coffeeId);
  return bowl ? ` (cup ${cupName(bowl)})` : '';
}

function message(lines: readonly string[], notes: readonly string[]): Message {
  const blocks: KnownBlock[] = [section(lines.join('\n'))];
  if (notes.length > 0) blocks.push(context(...notes));
  return { text: [...lines, ...notes].join(' ').replaceAll('*', ''), blocks };
}
