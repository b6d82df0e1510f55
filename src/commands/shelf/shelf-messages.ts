import type { HouseFacts } from '../../domain/house/house-facts.js';
import type { RestDays } from '../../domain/house/rest-window.js';
import { formatBp, formatMoney } from '../../domain/measure/hundredths.js';
import { counted, plainList } from '../../domain/measure/plain-list.js';
import { formatWeight, plainNumber } from '../../domain/measure/weight.js';
import { type Coffee, colourName, type Lot } from '../../domain/record/coffee.js';
import { type DrumLosses, lossBp } from '../../domain/roast/loss.js';
import { goodUntil, type RestState, restedOn, restState } from '../../domain/roast/shelf.js';
import { formatShortDay, type LocalDay } from '../../domain/when/local-day.js';
import {
  archiveButton,
  button,
  buttons,
  context,
  header,
  menu,
  say,
  section,
  sections,
} from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/notice.js';

/** A lot on the shelf, and what tastings hold of it ("T4"). */
type ShelfLot = {
  readonly lot: Lot;
  readonly heldMg: number;
  readonly heldFor: readonly string[];
};

/** A roast on record, where it can be corrected; `group` when it was roasted with others for a blend. */
export type ShownRoast = {
  readonly id: number;
  readonly greenMg: number;
  readonly roastedMg: number;
  readonly roastedOn: LocalDay;
  readonly drum: string | null;
  readonly group?: string;
};

/** A coffee with everything its card shows. */
export type ShelfCoffee = {
  readonly coffee: Coffee;
  readonly losses: DrumLosses;
  /** Its latest roasts, alone or in a group, the latest first. */
  readonly roasts: readonly ShownRoast[];
  /** Rest for the house's usual format. */
  readonly rest: RestDays;
  readonly lots: readonly ShelfLot[];
  /** Blends it is in, with its share: "Harbour Lamp (20 %)". */
  readonly blends: readonly string[];
};

/** The house, on the day on which its shelf is shown. */
export type ShelfHouse = HouseFacts & { readonly today: LocalDay };

/** Roasted milligrams of all lots, and in words how much of them no tasting holds when some is held. */
function shelfTotals({ lots }: ShelfCoffee, { unitSystem }: ShelfHouse) {
  const mg = lots.reduce((sum, lot) => sum + lot.lot.mg, 0);
  const heldMg = lots.reduce((sum, lot) => sum + lot.heldMg, 0);
  const free = heldMg > 0 && mg > 0 ? `, ${formatWeight(Math.max(0, mg - heldMg), unitSystem)} free` : '';
  return { mg, words: formatWeight(mg, unitSystem), free };
}

/** "500 g roasted Tue 24 Nov, rested since Wed 25 Nov, best by Thu 24 Dec, 160 g held for T4". */
function lotLine(shown: ShelfLot, rest: RestDays, house: ShelfHouse): string {
  const { lot } = shown;
  const pieces = [
    `${formatWeight(lot.mg, house.unitSystem)} roasted ${formatShortDay(lot.roastedOn)}`,
    restWords(lot, rest, house.today),
  ];
  if (lot.bestBy !== null) pieces.push(`best by ${formatShortDay(lot.bestBy)}`);
  if (shown.heldMg > 0) {
    pieces.push(`${formatWeight(shown.heldMg, house.unitSystem)} held for ${shown.heldFor.join(', ')}`);
  }
  return pieces.join(', ');
}

/** How rested a lot is on a day. */
function restWords(lot: Lot, rest: RestDays, today: LocalDay): string {
  const state = restState(lot, rest, today);
  if (state === 'resting') return `resting until ${formatShortDay(restedOn(lot, rest))}`;
  const until = formatShortDay(goodUntil(lot, rest));
  return state === 'good' ? `rested, good until ${until}` : `past its rest since ${until}`;
}

/** The best state among the lots of one coffee, for a list. */
function shelfState({ lots, rest }: ShelfCoffee, today: LocalDay): string {
  const first = (state: RestState) => lots.find(({ lot }) => restState(lot, rest, today) === state);
  if (first('good')) return 'rested';
  const resting = first('resting');
  return resting ? restWords(resting.lot, rest, today) : 'past its longest rest';
}

/** One coffee: what it is, what is roasted of it, and the next likely steps. `done` says what just happened. */
export function shelfCardMessage(shown: ShelfCoffee, house: ShelfHouse, done?: string): Message {
  const { coffee, lots } = shown;
  const name = mrkdwn(coffee.name);
  const shelf = shelfSentence(shown, house);
  const putOn = button('Put roasted on', 'shelf.roasted', { coffee: coffee.id });
  return {
    text: `${done ? `${done} ` : ''}${name}: ${shelf}`,
    blocks: [
      ...(done ? [section(done)] : []),
      section(`*${name}*\n${traits(coffee)}`),
      section(shelf),
      ...sections(lots.slice(0, MOST_LOTS).map((lot) => `• ${mrkdwn(lotLine(lot, shown.rest, house))}`)),
      ...shown.roasts.map((roast) =>
        section(roastLine(roast, house), button('Correct', `shelf.correct#${roast.id}`, { roast: roast.id })),
      ),
      ...(coffee.flavourAdded ? [section(allergenWarning(coffee.flavourAdded))] : []),
      context(...facts(shown, house)),
      ...buttons(
        ...(lots.length === 0
          ? [button('Ask for a roast', 'shelf.ask', coffee.id, { style: 'primary' }), putOn]
          : [
              putOn,
              button('Take off', 'shelf.take', coffee.id),
              button('Ask for a roast', 'shelf.ask', coffee.id),
            ]),
        button('Change', 'shelf.change', coffee.id),
        button('More facts', 'shelf.green', coffee.id),
        archiveButton('shelf', coffee, 'coffee', 'Its history stays.'),
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
  const { mg, words, free } = shelfTotals(shown, house);
  if (mg === 0) {
    return shown.coffee.soldAlone
      ? 'Nothing roasted on its own on the shelf.'
      : 'Nothing on the shelf: it is only roasted inside blends, so a tasting has to ask for it.';
  }
  return `${words} roasted on the shelf${free}.`;
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
    lossWords(coffee, shown.losses),
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

/** The loss in each drum that has roasted the coffee; before the first roast the figure that stands in for it. */
function lossWords(coffee: Coffee, losses: DrumLosses): string {
  const shown = [...losses].flatMap(([drum, { batches, lossBp: bp }]) =>
    batches > 0
      ? [`loss ${formatBp(bp)}, from ${counted(batches, 'roast')} of its own in the ${mrkdwn(drum)}`]
      : [],
  );
  if (shown.length > 0) return shown.join('; ');
  const [planned] = [...losses.values()];
  const source = coffee.lossBp === null ? `the house’s figure for ${coffee.level} roasts` : 'as it was given';
  return planned ? `loss ${formatBp(planned.lossBp)}, ${source}` : '';
}

/** "Roasted Tue 24 Nov in the 15 kg drum: 10 kg green, 8.6 kg out, 14 % loss". */
function roastLine(roast: ShownRoast, { unitSystem }: ShelfHouse): string {
  const { greenMg, roastedMg, roastedOn, drum, group } = roast;
  const where = drum === null ? '' : ` in the ${mrkdwn(drum)}`;
  const what = group === undefined ? 'Roasted' : `Roasted with others (${mrkdwn(group)})`;
  const weights = `${formatWeight(greenMg, unitSystem)} green, ${formatWeight(roastedMg, unitSystem)} out`;
  return `${what} ${formatShortDay(roastedOn)}${where}: ${weights}, ${formatBp(lossBp(greenMg, roastedMg))} loss`;
}

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
  const missingLine = ({ coffee }: ShelfCoffee) =>
    `• *${mrkdwn(coffee.name)}* · ${coffee.soldAlone ? 'sold alone' : 'only in blends'}`;
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
      ...sections(roasted.map((shown) => `• ${roastedLine(shown, house)}`)),
      ...(missing.length > 0 ? sections(['*Not roasted on its own now*', ...missing.map(missingLine)]) : []),
      ...(later > 0 ? [context(`${counted(later, 'more coffee', 'more coffees')} behind “Next”.`)] : []),
      menu(
        'shelf.open',
        'Open a coffee',
        coffees.map((shown) => shown.coffee),
      ),
      ...buttons(...rows),
    ],
  };
}

function roastedLine(shown: ShelfCoffee, house: ShelfHouse): string {
  const { words, free } = shelfTotals(shown, house);
  const days = shown.lots.flatMap(({ lot }) => lot.bestBy ?? []).sort();
  const best = days[0] === undefined ? '' : ` · best by ${formatShortDay(days[0])}`;
  return `*${mrkdwn(shown.coffee.name)}* · ${words}${free} · ${shelfState(shown, house.today)}${best}`;
}

function emptyShelf(): Message {
  return say(
    'The shelf is empty. Add the coffees that go into your blends first.',
    context('By words: `/spoon shelf add "Nubosa Natural"`'),
    ...buttons(button('Add a coffee', 'shelf.add', {}, { style: 'primary' })),
  );
}
