import type { ActionsBlock } from '@slack/types';
import { formatWeight } from '../../domain/measure/format-weight.js';
import { counted } from '../../domain/measure/plain-list.js';
import { formatShortDay } from '../../domain/when/format-when.js';
import { button, buttons, context, header, plainText, section, sections } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';
import { type ShelfCoffee, type ShelfHouse, shelfState, shelfTotals } from './shelf-coffee-message.js';

/** As many coffees as a phone shows without tiring; the rest is behind a tap. */
const SHELF_PAGE = 12;

/** The shelf as a list: roasted coffees first, then those that have to be roasted. */
export function shelfListMessage(coffees: readonly ShelfCoffee[], house: ShelfHouse, from = 0): Message {
  if (coffees.length === 0) return emptyShelf();
  const sorted = [...coffees].sort((a, b) => Number(b.lots.length > 0) - Number(a.lots.length > 0));
  const page = sorted.slice(from, from + SHELF_PAGE);
  const roasted = page.filter((shown) => shown.lots.length > 0);
  const missing = page.filter((shown) => shown.lots.length === 0);
  const later = sorted.length - from - page.length;
  const rows = [
    button('Add a coffee', 'shelf.add', {}),
    button('Put roasted on the shelf', 'shelf.roasted', { coffee: null }),
    ...(later > 0
      ? [button(`Next ${Math.min(later, SHELF_PAGE)}`, 'shelf.list', { from: from + SHELF_PAGE })]
      : []),
  ];
  const title = `Shelf: ${counted(coffees.length, 'coffee')}`;
  return {
    text: `${title}, ${sorted.filter((shown) => shown.lots.length > 0).length} of them roasted on their own.`,
    blocks: [
      header(title),
      ...(roasted.length > 0 ? sections(roasted.map((shown) => `• ${roastedLine(shown, house)}`)) : []),
      ...(missing.length > 0
        ? sections(['*Not roasted on its own now*', ...missing.map((shown) => `• ${missingLine(shown)}`)])
        : []),
      ...(later > 0 ? [context(`${counted(later, 'more coffee', 'more coffees')} behind “Next”.`)] : []),
      pickCoffee(
        'shelf.open',
        'Open a coffee',
        coffees.map((shown) => shown.coffee),
      ),
      ...buttons(...rows),
    ],
  };
}

/** A menu of coffees whose choice opens one; a menu holds at most 100. */
export function pickCoffee(
  action: string,
  label: string,
  choices: readonly { readonly id: number; readonly name: string }[],
): ActionsBlock {
  return {
    type: 'actions',
    elements: [
      {
        type: 'static_select',
        action_id: action,
        placeholder: plainText(label, 150),
        options: choices.slice(0, 100).map((choice) => ({
          text: plainText(plain(choice.name), 75),
          value: JSON.stringify(choice.id),
        })),
      },
    ],
  };
}

function roastedLine(shown: ShelfCoffee, house: ShelfHouse): string {
  const { mg, freeMg } = shelfTotals(shown.lots);
  const held = mg - freeMg;
  const weights =
    held > 0
      ? `${formatWeight(mg, house.unitSystem)}, ${formatWeight(freeMg, house.unitSystem)} free`
      : formatWeight(mg, house.unitSystem);
  const days = shown.lots.flatMap(({ lot }) => lot.bestBy ?? []).sort();
  const best = days[0] === undefined ? '' : ` · best by ${formatShortDay(days[0])}`;
  return `*${mrkdwn(shown.coffee.name)}* · ${weights} · ${shelfState(shown, house.today)}${best}`;
}

function missingLine(shown: ShelfCoffee): string {
  return `*${mrkdwn(shown.coffee.name)}* · ${shown.coffee.soldAlone ? 'sold alone' : 'only in blends'}`;
}

function emptyShelf(): Message {
  const sentence = 'The shelf is empty. Add the coffees that go into your blends first.';
  return {
    text: sentence,
    blocks: [
      section(sentence),
      context('By words: `/spoon shelf add "Nubosa Natural"`'),
      ...buttons(button('Add a coffee', 'shelf.add', {}, { style: 'primary' })),
    ],
  };
}
