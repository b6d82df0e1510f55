import { findNamed } from '../../domain/measure/find-named.js';
import { type ParsedWeight, parseWeight, weightAt } from '../../domain/measure/weight.js';
import { LIVE_ASKS } from '../../domain/record/ask.js';
import { type ParsedDay, parseDay } from '../../domain/when/parse-when.js';
import { listAsks } from '../../store/asks.js';
import { listCoffees } from '../../store/coffees.js';
import { inTransaction } from '../../store/db.js';
import type { Answer, Deps, Feature } from '../common/bot.js';
import { splitWords, type Typed, type Who } from '../common/intake.js';
import { askContext } from '../planning/plan-roasts.js';
import { askReminderDue, noticesOfAsk } from './ask-notices.js';
import { againTap, agreeTap, dropTap, moveTap, nearestTap, withdrawTap } from './host-answers.js';
import { askListMessage } from './host-messages.js';
import { loadAskView } from './load-ask.js';
import { askWithoutTable, coffeeAskTap, newAskSubmitted, openAskForm, roastDayBy } from './new-ask.js';
import {
  acceptTap,
  declineSubmitted,
  declineTap,
  missedTap,
  offerSubmitted,
  offerTap,
  roastedSubmitted,
  roastedTap,
} from './roaster-answers.js';

export const ask: Feature = {
  verb: {
    name: 'ask',
    does: 'ask for a coffee roasted alone, or see the open asks',
    example: '/spoon ask Chirinos 400g by thu',
    run: askTyped,
  },
  taps: {
    'ask.form': { for: 'ask for roast', run: (deps, tap) => openAskForm(deps, tap.who) },
    'shelf.ask': { for: 'ask for roast', run: coffeeAskTap },
    'ask.list': { for: 'look', run: async (deps, tap) => openAsks(deps, tap.who) },
    'ask.accept': { for: 'answer ask', run: acceptTap },
    'ask.offer': { for: 'answer ask', run: offerTap },
    'ask.decline': { for: 'answer ask', run: declineTap },
    'ask.roasted': { for: 'answer ask', run: roastedTap },
    'ask.missed': { for: 'answer ask', run: missedTap },
    'ask.agree': { for: 'handle offer', run: agreeTap },
    'ask.withdraw': { for: 'handle offer', run: withdrawTap },
    'ask.move': { for: 'change table', run: moveTap },
    'ask.drop': { for: 'change table', run: dropTap },
    'ask.nearest': { for: 'change table', run: nearestTap },
    'ask.again': { for: 'change table', run: againTap },
  },
  forms: {
    'ask.new': { for: 'ask for roast', run: newAskSubmitted },
    'ask.offer': { for: 'answer ask', run: offerSubmitted },
    'ask.decline': { for: 'answer ask', run: declineSubmitted },
    'ask.roasted': { for: 'answer ask', run: roastedSubmitted },
  },
  subjects: { ask: { notices: noticesOfAsk, due: askReminderDue } },
};

/** `ask`: the open asks. `ask Chirinos 400g by thu`: one more; with words missing, the form. */
async function askTyped(deps: Deps, typed: Typed): Promise<Answer> {
  if (/^(list|open|all)?$/iu.test(typed.words.trim())) return openAsks(deps, typed.who);
  const { workspace } = typed.who;
  const context = await askContext(deps.db, deps, typed.who);
  const words = readAskWords(typed.words, context.now, context.house.timeZone);
  const found = findNamed(words.name, await listCoffees(deps.db, workspace));
  const coffee = found.kind === 'one' ? found.item : null;
  const said = notRead(words, coffee === null);
  const day = words.day?.ok ? words.day.day : null;
  if (coffee && words.weight?.ok && !said) {
    const { mg } = words.weight;
    const roastDay = roastDayBy(context, day);
    return inTransaction(deps.db, async (trx) => ({
      message: await askWithoutTable(trx, context, coffee, mg, roastDay),
    }));
  }
  return openAskForm(deps, typed.who, { coffeeId: coffee?.id ?? null, grams: words.weightSaid, day, said });
}

/** What of the typed words could not be read, to stand at the top of the form. */
function notRead(words: AskWords, noCoffee: boolean): string | null {
  if (words.day && !words.day.ok) return words.day.message;
  if (words.weight && !words.weight.ok) return words.weight.message;
  return noCoffee && words.name !== '' ? `I know no coffee called “${words.name}”. Which one is it?` : null;
}

async function openAsks(deps: Deps, who: Who): Promise<Answer> {
  const views = [];
  for (const { id } of await listAsks(deps.db, who.workspace, LIVE_ASKS)) {
    const view = await loadAskView(deps.db, who.workspace, id, deps.clock.now());
    if (view) views.push(view);
  }
  return { message: askListMessage(views, who.person) };
}

/** A typed ask taken apart: what is left is the coffee's name. */
type AskWords = {
  readonly name: string;
  readonly weight: ParsedWeight | null;
  readonly weightSaid: string;
  readonly day: ParsedDay | null;
};

const BEFORE_DAY = new Set(['by', 'on', 'for', 'until', 'before']);

/** Reads `Chirinos 400g by thu`, in any order of grams and day; quotes around the name do not matter. */
function readAskWords(typed: string, now: Date, zone: string): AskWords {
  const words = splitWords(typed).flatMap((word) => word.split(/\s+/u));
  const at = words.findIndex((_, index) => weightAt(words, index) !== null);
  const used = at < 0 ? 0 : (weightAt(words, at)?.used ?? 0);
  const others = words.filter((_, index) => index < at || index >= at + used);
  const dayAt = others.findIndex((word, index) => index > 0 && BEFORE_DAY.has(word.toLowerCase()));
  const dayWords = dayAt < 0 ? [] : others.slice(dayAt + 1);
  const named = dayAt < 0 ? others : others.slice(0, dayAt);
  // A bare number is a weight whose unit is missing, and the form says so.
  const bare = used === 0 ? (named.find((word) => /^\d[\d.,]*$/u.test(word)) ?? '') : '';
  const weightSaid = used > 0 ? words.slice(at, at + used).join(' ') : bare;
  return {
    name: named.filter((word) => word !== bare).join(' '),
    weight: weightSaid === '' ? null : parseWeight(weightSaid),
    weightSaid,
    day: dayWords.length === 0 ? null : parseDay(dayWords.join(' '), now, zone),
  };
}
