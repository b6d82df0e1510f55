import type { KnownBlock, ModalView } from '@slack/types';
import { coffeeName, cupRatio, type TableSetting } from '../domain/record/table-setting.js';
import { type Cup, cupName, tastingName } from '../domain/record/tasting.js';
import type { Pour } from '../domain/table/pour.js';
import { context, section } from './blocks.js';
import { mrkdwn } from './escape.js';
import { form, textInput } from './form.js';
import type { Message } from './message.js';

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

/** How to build the cup that was just added. */
export function pouredMessage(
  cup: Cup,
  setting: TableSetting,
  pour: Pour | null,
  saidSo: string | null,
): Message {
  const name = cupName(cup);
  const ratio = cupRatio(cup, setting.recipe);
  if (!pour) {
    const added = `Cup *${name}* is added to *${tastingName(setting.tasting)}*: ${ratio}, weighed.`;
    return message([added, ...(saidSo ? [mrkdwn(saidSo)] : [])], []);
  }
  const scoops = cup.parts.map(
    (part, index) =>
      `${(pour.scoops.scoops[index] ?? 0) * pour.rounds} spoonfuls of ${mrkdwn(coffeeName(setting.coffees, part.coffeeId))}`,
  );
  const error = Math.max(...pour.likelyErrorPoints, pour.scoops.worstErrorPoints);
  const lines = [`Cup *${name}*, ${ratio}. Spoon together: ${scoops.join(', ')} (${pour.volumeMl} mL).`];
  if (saidSo) lines.push(mrkdwn(saidSo));
  const notes = [
    `Likely error of each share: about ${error.toFixed(1)} points. A preview only: confirm the winner as a weighed blend.`,
  ];
  for (const short of pour.missing) {
    const coffee = mrkdwn(coffeeName(setting.coffees, cup.parts[short.component]?.coffeeId ?? 0));
    lines.push(
      `Too little of ${coffee} may be left: about ${short.ml} mL short. Brew one more bowl, or pour a smaller cup.`,
    );
  }
  notes.push('Use a clean spoon for each bowl.');
  return message(lines, notes);
}

function message(lines: readonly string[], notes: readonly string[]): Message {
  const blocks: KnownBlock[] = [section(lines.join('\n'))];
  if (notes.length > 0) blocks.push(context(...notes));
  return { text: [...lines, ...notes].join(' ').replaceAll('*', ''), blocks };
}
