import { formatWeight, plainNumber } from '../../domain/measure/format-weight.js';
import { formatMoney } from '../../domain/measure/money.js';
import { formatBp } from '../../domain/measure/percent.js';
import { counted, plainList } from '../../domain/measure/plain-list.js';
import type { Coffee } from '../../domain/record/coffee.js';
import { colourName } from '../../domain/roast/colour.js';
import type { LossEstimate } from '../../domain/roast/loss-estimate.js';
import { button, buttons, context, section, sections } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';
import { lotLine, type ShelfCoffee, type ShelfHouse, shelfTotals } from './shelf-coffee-message.js';

/** One coffee: what it is, what is roasted of it, and the next likely steps. `done` says what just happened. */
export function shelfCardMessage(shown: ShelfCoffee, house: ShelfHouse, done?: string): Message {
  const { coffee, lots } = shown;
  const name = mrkdwn(coffee.name);
  const shelf = shelfSentence(shown, house);
  return {
    text: `${done ? `${done} ` : ''}${name}: ${shelf}`,
    blocks: [
      ...(done ? [section(done)] : []),
      section(`*${name}*\n${traits(coffee)}`),
      section(shelf),
      ...sections(lots.slice(0, MOST_LOTS).map((lot) => `• ${mrkdwn(lotLine(lot, shown.rest, house))}`)),
      ...(coffee.flavourAdded ? [section(allergenWarning(coffee.flavourAdded))] : []),
      context(...facts(shown, house)),
      ...buttons(
        ...(lots.length === 0
          ? [button('Ask for a roast', 'shelf.ask', coffee.id, { style: 'primary' })]
          : []),
        button('Put roasted on', 'shelf.roasted', { coffee: coffee.id }),
        ...(lots.length > 0 ? [button('Take off', 'shelf.take', coffee.id)] : []),
        ...(lots.length > 0 ? [button('Ask for a roast', 'shelf.ask', coffee.id)] : []),
        button('Change', 'shelf.change', coffee.id),
        button('More facts', 'shelf.green', coffee.id),
        button('Archive', 'shelf.archive', coffee.id, {
          style: 'danger',
          confirm: {
            title: 'Archive this coffee?',
            text: `${plain(coffee.name)} leaves the lists. Its history stays.`,
            yes: 'Archive',
            no: 'Keep',
          },
        }),
        button('Whole shelf', 'shelf.list', { from: 0 }),
      ),
    ],
  };
}

const MOST_LOTS = 12;

function traits(coffee: Coffee): string {
  const words = [
    coffee.origin ? mrkdwn(coffee.origin) : null,
    coffee.process,
    coffee.role,
    `${coffee.level} roast`,
    coffee.soldAlone ? 'sold alone' : 'only in blends',
  ];
  return words.filter((word) => word !== null).join(' · ');
}

function shelfSentence(shown: ShelfCoffee, house: ShelfHouse): string {
  const { mg, freeMg } = shelfTotals(shown.lots);
  if (mg === 0) {
    return shown.coffee.soldAlone
      ? 'Nothing roasted on its own on the shelf.'
      : 'Nothing on the shelf: it is only roasted inside blends, so a tasting has to ask for it.';
  }
  const free = freeMg < mg ? `, ${formatWeight(freeMg, house.unitSystem)} free` : '';
  return `${formatWeight(mg, house.unitSystem)} roasted on the shelf${free}.`;
}

function allergenWarning(added: string): string {
  return `:warning: *Flavour added or infused:* ${mrkdwn(added)}. Ask tasters about allergies first, and keep it off a shared grinder and table.`;
}

/** Loss with where it comes from, money, green and measurements; only what is known. */
function facts(shown: ShelfCoffee, house: ShelfHouse): readonly string[] {
  const { coffee } = shown;
  const money = coffee.greenPriceCents;
  const green = [
    money === null ? null : `green ${formatMoney(money, house.currency)}/kg`,
    coffee.greenMg === null ? null : `${formatWeight(coffee.greenMg, house.unitSystem)} green in store`,
  ];
  const measured = [
    coffee.moistureBp === null ? null : `moisture ${formatBp(coffee.moistureBp)}`,
    coffee.densityGPerL === null ? null : `density ${coffee.densityGPerL} g/L`,
    coffee.screen === null ? null : `screen ${plainNumber(coffee.screen, 1)}`,
    coffee.colour === null ? null : `colour ${plainNumber(coffee.colour, 1)} (${colourName(coffee.colour)})`,
  ];
  const lines = [
    lossWords(coffee, shown.loss),
    joined(green),
    joined(measured),
    shown.blends.length > 0 ? `In ${mrkdwn(plainList(shown.blends))}` : '',
    coffee.remarks ? mrkdwn(coffee.remarks) : '',
  ];
  return lines.filter((line) => line !== '');
}

function joined(pieces: readonly (string | null)[]): string {
  return pieces.filter((piece) => piece !== null).join(' · ');
}

function lossWords(coffee: Coffee, loss: LossEstimate): string {
  if (loss.batches > 0)
    return `loss ${formatBp(loss.lossBp)}, from ${counted(loss.batches, 'roast')} of its own`;
  const source = coffee.lossBp === null ? `the house’s figure for ${coffee.level} roasts` : 'as it was given';
  return `loss ${formatBp(loss.lossBp)}, ${source}`;
}
