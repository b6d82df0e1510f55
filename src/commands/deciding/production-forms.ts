import type { ModalView } from '@slack/types';
import { formatBp, formatMoney } from '../../domain/measure/hundredths.js';
import { formatWeight, type UnitSystem } from '../../domain/measure/weight.js';
import { marginAt } from '../../domain/production/blend-cost.js';
import type { RunOut } from '../../domain/production/stand-in.js';
import { context, divider, header, say, section } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import { dateInput, form, radioInput, selectInput, textInput } from '../../kit/form.js';
import type { Message } from '../../kit/notice.js';
import { questionInputs, type RoastStart } from '../planning/roast-form.js';

/* What production asks after a digest: recording a roast, a coffee that runs out, the margin at a price. */

export const GROUP_ROASTED_FORM = 'table.roasted';
export const MARGIN_FORM = 'table.margin';

/** A roast group of the blend, and what one load of it is charged with. */
export type RoastedGroup = { readonly group: string; readonly names: string; readonly greenMg: number };

/** What went in and came out when a roast group was roasted for the blend. */
export function groupRoastedForm(
  groups: readonly RoastedGroup[],
  blend: string,
  units: UnitSystem,
  state: unknown,
  start: RoastStart,
): ModalView {
  const [only] = groups;
  const choices = groups.map(({ group, names }) => ({ label: plain(names), value: group }));
  const which =
    groups.length > 8
      ? selectInput('group', 'Which was roasted?', choices)
      : radioInput('group', 'Which was roasted?', choices, { initial: only?.group });
  return form(
    GROUP_ROASTED_FORM,
    'Roasted this blend',
    'Record',
    [
      section(`*${mrkdwn(blend)}*: one load, weighed before and once it has cooled.`),
      ...questionInputs(start),
      which,
      textInput('green', 'Green in', {
        limit: 30,
        placeholder: '10.6 kg',
        initial: start.green,
        ...(only && groups.length === 1
          ? { hint: `The note says ${formatWeight(only.greenMg, units)} a load.` }
          : {}),
      }),
      textInput('roasted', 'Roasted out', { limit: 30, placeholder: '9 kg', initial: start.roasted }),
      dateInput('day', 'Roast day', { initial: start.day }),
      textInput('remarks', 'Remarks', { optional: true, lines: true, limit: 500 }),
    ],
    state,
  );
}

/** The most stand-ins named for one coffee. */
const MOST_NAMED = 3;

/** For every coffee of the blend: what is nearest to it, what to taste first, and what changes. */
export function runOutView(blend: string, runOuts: readonly RunOut[]): ModalView {
  const blocks = runOuts.flatMap((runOut, index) => {
    const next = runOut.nearest.slice(1, MOST_NAMED).map((near) => near.said);
    const [nearest] = runOut.nearest;
    return [
      ...(index === 0 ? [] : [divider()]),
      header(`If ${plain(runOut.missing)} runs out`),
      ...(nearest ? [section(`Nearest: *${mrkdwn(nearest.said)}*`)] : []),
      section(runOut.said.map(mrkdwn).join('\n')),
      ...(next.length > 0 ? [context(mrkdwn(`Then ${next.join(' Then ')}`))] : []),
    ];
  });
  const nobody = `*${mrkdwn(blend)}*: there is no other coffee to stand in for one of its own, roasted or green. Add what you could get with \`/spoon shelf add\`.`;
  const basis = 'Nearness rests on what tasters named in both coffees alone, and on their role in a blend.';
  const shown = runOuts.every((runOut) => runOut.nearest.length === 0)
    ? [section(nobody)]
    : [section(`*${mrkdwn(blend)}*`), ...blocks, context(basis)];
  return form('table.runsout', 'If a coffee runs out', null, shown);
}

/** What is known of a bag of the blend, whole cents. */
export type BagFacts = {
  readonly blend: string;
  readonly bagMg: number;
  readonly costCents: number;
  readonly units: UnitSystem;
  readonly currency: string;
};

/** Asks for a price, to say what margin it leaves. */
export function marginForm(bag: BagFacts, priceCents: number, state: unknown): ModalView {
  const weight = formatWeight(bag.bagMg, bag.units);
  return form(
    MARGIN_FORM,
    'Margin at a price',
    'Work it out',
    [
      section(`*${mrkdwn(bag.blend)}* costs ${formatMoney(bag.costCents, bag.currency)} per ${weight} bag.`),
      textInput('price', `Price of a ${weight} bag`, {
        initial: (priceCents / 100).toFixed(2),
        hint: 'What is left after tax and discounts.',
        limit: 20,
      }),
    ],
    state,
  );
}

/** The margin at a price, as a share of the price. */
export function marginMessage(bag: BagFacts, priceCents: number): Message {
  const money = (cents: number) => formatMoney(cents, bag.currency);
  const per = `a ${formatWeight(bag.bagMg, bag.units)} bag`;
  const gap = priceCents - bag.costCents;
  const verdict =
    gap > 0
      ? `leaves a margin of *${formatBp(marginAt(bag.costCents, priceCents))}* of the price: ${money(gap)} over its cost of ${money(bag.costCents)}.`
      : gap === 0
        ? 'is just its cost: no margin.'
        : `is *below its cost* of ${money(bag.costCents)}: each bag loses ${money(-gap)}.`;
  return say(`*${mrkdwn(bag.blend)}* at ${money(priceCents)} ${per} ${verdict}`);
}
