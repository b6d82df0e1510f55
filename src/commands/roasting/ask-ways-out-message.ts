import type { ActionsBlock, Button } from '@slack/types';
import type { FittingStart } from '../../domain/roast/roast-day.js';
import { formatShortDay, formatTime, localDay } from '../../domain/when/local-day.js';
import { button, buttons } from '../../kit/blocks.js';
import { plain, shorten } from '../../kit/escape.js';

/** A coffee that will not be there for a table, and what its host can do. */
export type Stuck = {
  /** The ask it hangs on, when there is one. */
  readonly askId: number | null;
  readonly tastingId: number;
  readonly tableName: string;
  readonly coffeeId: number;
  readonly coffeeName: string;
  readonly dates: readonly FittingStart[];
  readonly nearest: { readonly coffeeId: number; readonly name: string } | null;
  readonly zone: string;
  /** A roast day would still fit, so it can be asked for once more. */
  readonly canAskAgain: boolean;
};

/** Longest piece of a coffee's name on a button, which Slack cuts at 75 characters. */
const NAME_LIMIT = 30;

/** The ways out, the gentlest first: move the tasting, ask again, another coffee, drop the cup. */
export function waysOut(stuck: Stuck, ...first: readonly Button[]): readonly ActionsBlock[] {
  const { tastingId: tasting, coffeeId: coffee, askId: ask } = stuck;
  const value = { tasting, coffee, ask };
  const at = `${tasting}-${coffee}`;
  const name = shorten(plain(stuck.coffeeName), NAME_LIMIT);
  const moves = stuck.dates.slice(0, 3).map((date, index) => {
    const when = `${formatShortDay(localDay(date.start, stuck.zone))}, ${formatTime(date.start, stuck.zone)}`;
    return button(`Move ${stuck.tableName} to ${when}`, `ask.move#${at}-${index}`, {
      ...value,
      at: date.start.toISOString(),
    });
  });
  const others: Button[] = [];
  if (stuck.canAskAgain) others.push(button('Ask again', `ask.again#${at}`, value));
  if (stuck.nearest) {
    const other = shorten(plain(stuck.nearest.name), NAME_LIMIT);
    others.push(
      button(`Use ${other} instead`, `ask.nearest#${at}`, { ...value, other: stuck.nearest.coffeeId }),
    );
  }
  others.push(
    button(`Drop ${name}`, `ask.drop#${at}`, value, {
      style: 'danger',
      confirm: {
        title: `Drop ${name}?`,
        text: `The cups of ${stuck.tableName} that cannot be made without it are taken off the table.`,
        yes: 'Drop',
        no: 'Keep',
      },
    }),
  );
  return buttons(...first, ...moves, ...others);
}
