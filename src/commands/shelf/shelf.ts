import { findLeading, nearNames } from '../../domain/measure/find-named.js';
import { weightAt } from '../../domain/measure/weight.js';
import type { LocalDay } from '../../domain/when/local-day.js';
import { parsePastDay } from '../../domain/when/parse-when.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import type { Answer, Deps, Feature } from '../common/bot.js';
import { Id, readValue, splitWords, type Typed } from '../common/intake.js';
import {
  addByWords,
  addTap,
  archiveCoffeeOf,
  changeCoffee,
  changeTap,
  coffeeSubmitted,
  greenSubmitted,
  greenTap,
} from './change-coffee.js';
import { coffeeForm, readCoffeeFacts } from './coffee-facts.js';
import { type ShelfCoffee, shelfCardMessage, shelfListMessage } from './shelf-messages.js';
import {
  correctSubmitted,
  correctTap,
  putOnShelf,
  putOnSubmitted,
  putOnTap,
  sureTap,
  takeOffShelf,
  takeSubmitted,
  takeTap,
} from './shelf-roasted.js';
import { putOnForm, takeForm } from './shelf-roasted-form.js';
import { coffeeCard, listTap, loadShelf, openTap, requireShown, type Shelf } from './shelf-view.js';

/** Coffees: what a roastery can roast, and what of it is roasted on its own. */
export const shelf: Feature = {
  verb: {
    name: 'shelf',
    does: 'Coffees: list, add, change, what is roasted and how much',
    example: '/spoon shelf "Kayanza Hill" 500g roasted tue',
    run: shelfTyped,
  },
  taps: {
    'shelf.list': { for: 'look', run: listTap },
    'shelf.open': { for: 'look', run: openTap },
    'shelf.add': { for: 'change shelf', run: addTap },
    'shelf.change': { for: 'change shelf', run: changeTap },
    'shelf.green': { for: 'change shelf', run: greenTap },
    'shelf.roasted': { for: 'change shelf', run: putOnTap },
    'shelf.take': { for: 'change shelf', run: takeTap },
    'shelf.sure': { for: 'change shelf', run: sureTap },
    'shelf.correct': { for: 'change shelf', run: correctTap },
    'shelf.archive': {
      for: 'change shelf',
      run: (deps, tap) => archiveCoffeeOf(deps, tap.who, readValue(Id, tap.value)),
    },
  },
  forms: {
    'shelf.coffee': { for: 'change shelf', run: coffeeSubmitted },
    'shelf.green': { for: 'change shelf', run: greenSubmitted },
    'shelf.roasted': { for: 'change shelf', run: putOnSubmitted },
    'shelf.take': { for: 'change shelf', run: takeSubmitted },
    'shelf.correct': { for: 'change shelf', run: correctSubmitted },
  },
  subjects: {},
};

const ADD = new Set(['add', 'new']);
const LIST = new Set(['list', 'all']);
/** Words that say what to do with the coffee that is named before or after them. */
const DEEDS = new Set(['put', 'take', 'archive', 'change', 'edit', 'open', 'show']);

/** `shelf …`: the list, one coffee, or what to do with one. */
async function shelfTyped(deps: Deps, typed: Typed): Promise<Answer> {
  const words = splitWords(typed.words);
  const first = (words[0] ?? '').toLowerCase();
  const here = await loadShelf(deps, typed.who);
  if (ADD.has(first)) {
    const known = knownWithGrams(words.slice(1), here);
    if (!known) return addByWords(deps, typed, words.slice(1));
    return doWith(deps, typed, here, known.shown, known.rest);
  }
  if (words.length === 0 || (words.length === 1 && LIST.has(first))) {
    return { message: shelfListMessage(here.coffees, here.house) };
  }
  const named = findCoffeeIn(DEEDS.has(first) ? words.slice(1) : words, here);
  if ('answer' in named) return named.answer;
  const rest = DEEDS.has(first) ? [first, ...named.rest] : named.rest;
  return doWith(deps, typed, here, named.shown, rest);
}

/** `add "Kayanza Hill" 500g` adds grams of a coffee that is there, not a second coffee. */
function knownWithGrams(words: readonly string[], here: Shelf) {
  const { found, rest } = findLeading(
    words,
    here.coffees.map((shown) => shown.coffee),
  );
  if (found.kind !== 'one' || readGrams(rest, here.house.today) === null) return null;
  return { shown: requireShown(here, found.item.id), rest };
}

/** The part of the words that reads like a name: what comes before any number. */
function nameIn(words: readonly string[]): string {
  const end = words.findIndex((word, index) => index > 0 && /^[-+]?\d/u.test(word));
  return words.slice(0, words[0]?.includes(' ') ? 1 : end < 0 ? words.length : end).join(' ');
}

function findCoffeeIn(
  words: readonly string[],
  here: Shelf,
): { readonly shown: ShelfCoffee; readonly rest: readonly string[] } | { readonly answer: Answer } {
  const coffees = here.coffees.map((shown) => shown.coffee);
  const { found, rest } = findLeading(words, coffees);
  if (found.kind === 'one') return { shown: requireShown(here, found.item.id), rest };
  const said = nameIn(words);
  const offered = found.kind === 'many' ? found.items.slice(0, 8) : nearNames(said, coffees);
  const question =
    found.kind === 'many' ? 'Which coffee is it?' : `I know no coffee called “${mrkdwn(said)}”.`;
  return {
    answer: {
      message: say(
        question,
        ...buttons(
          ...offered.map((coffee) => button(plain(coffee.name), `shelf.open#${coffee.id}`, coffee.id)),
          ...(found.kind === 'none' && said.length <= 80
            ? [button(`Add “${plain(said)}”`, 'shelf.add', { name: said })]
            : []),
          button('Whole shelf', 'shelf.list', { from: 0 }),
        ),
      ),
    },
  };
}

async function doWith(
  deps: Deps,
  typed: Typed,
  here: Shelf,
  shown: ShelfCoffee,
  rest: readonly string[],
): Promise<Answer> {
  const { coffee } = shown;
  const [deed = '', ...after] = rest.map((word) => word.toLowerCase());
  if (rest.length === 0 || deed === 'open' || deed === 'show') {
    return { message: shelfCardMessage(shown, here.house) };
  }
  if (deed === 'archive') return archiveCoffeeOf(deps, typed.who, coffee.id);
  const name = `*${mrkdwn(coffee.name)}*`;
  if ((deed === 'change' || deed === 'edit') && after.length === 0) {
    return { form: coffeeForm(coffee.id, coffee, here.house) };
  }
  const read = readGrams(rest, here.house.today);
  if (read && !read.ok) throw new UserError(mrkdwn(read.message));
  if (read?.ok) {
    const { mg, greenMg, off, roastedOn } = read;
    if (off) return takeOffShelf(deps, typed.who, { coffeeId: coffee.id, lotId: null, mg });
    const roasted = { coffeeId: coffee.id, roastedMg: mg, greenMg, roastedOn };
    return putOnShelf(deps, typed.who, { ...roasted, drum: null, sure: false });
  }
  if (deed === 'put' && after.length === 0) {
    return { form: putOnForm(coffee, [], here.house) };
  }
  if (deed === 'take' && after.length === 0 && shown.lots.length > 0) {
    return { form: takeForm(shown, here.house) };
  }
  const told = readCoffeeFacts(deed === 'change' || deed === 'edit' ? rest.slice(1) : rest);
  if (told.left.length > 0 || Object.keys(told.draft).length === 0) {
    throw new UserError(
      `I understood ${name}, but not “${mrkdwn(told.left.join(' ') || rest.join(' '))}”.`,
      `Like \`/spoon shelf "${mrkdwn(coffee.name)}" 500g roasted tue\`, \`… take 200g\` or \`… loss 15.5%\`.`,
    );
  }
  await changeCoffee(deps, typed.who, coffee.id, told.draft);
  return { message: await coffeeCard(deps, typed.who, coffee.id, 'Changed.') };
}

/** Roasted grams said in words: how much, of which roast day, from how much green. */
type GramsWords = {
  readonly mg: number;
  readonly greenMg: number | null;
  readonly off: boolean;
  readonly roastedOn: LocalDay;
};

const OFF = new Set(['off', 'take', 'minus', 'used', 'gone', 'less']);
const FILLING = new Set('roasted roast on put add the shelf of from plus more'.split(' '));

/** Reads `500g roasted tue from 590g green`, `take 200g`, `-200g`; null when no weight is among the words. */
function readGrams(
  words: readonly string[],
  today: LocalDay,
): ({ readonly ok: true } & GramsWords) | { readonly ok: false; readonly message: string } | null {
  let off = false;
  let roastedMg: number | null = null;
  let greenMg: number | null = null;
  const left: string[] = [];
  for (let at = 0; at < words.length; ) {
    const word = (words[at] ?? '').toLowerCase();
    const weight = weightAt(words, at);
    if (weight) {
      off ||= word.startsWith('-');
      const green = (words[at + weight.used] ?? '').toLowerCase() === 'green';
      if (green) greenMg = weight.mg;
      else roastedMg = weight.mg;
      at += weight.used + (green ? 1 : 0);
      continue;
    }
    if (OFF.has(word)) off = true;
    else if (!FILLING.has(word)) left.push(word);
    at += 1;
  }
  if (roastedMg === null) return null;
  const day = left.length > 0 ? parsePastDay(left, today) : null;
  if (day && !day.ok) return day;
  return { ok: true, mg: roastedMg, greenMg, off, roastedOn: day?.day ?? today };
}
