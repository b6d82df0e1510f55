import { findNamed } from '../../domain/measure/find-named.js';
import { listAsks } from '../../store/asks.js';
import { listCoffees } from '../../store/coffees.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer, Deps, Feature } from '../common/bot.js';
import type { Typed, Who } from '../common/intake.js';
import { LIVE_ASKS } from '../planning/ask-settle.js';
import {
  acceptTap,
  declineSubmitted,
  declineTap,
  missedTap,
  offerSubmitted,
  offerTap,
} from './ask-answer.js';
import { askContext } from './ask-change.js';
import { askReminderDue } from './ask-due.js';
import { DECLINE_FORM, NEW_ASK_FORM, OFFER_FORM, ROASTED_FORM } from './ask-forms.js';
import { agreeTap, withdrawTap } from './ask-host.js';
import { askListMessage } from './ask-list-message.js';
import { askWithoutTable, newAskSubmitted, openAskForm, roastDayBy } from './ask-new.js';
import { noticesOfAsk } from './ask-notices.js';
import { roastedSubmitted, roastedTap } from './ask-roasted.js';
import { loadAskState } from './ask-state.js';
import { againTap, dropTap, moveTap, nearestTap } from './ask-ways.js';
import { readAskWords } from './ask-words.js';

const EMPTY = { coffeeId: null, grams: '', day: null, said: null };

export const ask: Feature = {
  verb: {
    name: 'ask',
    does: 'ask for a coffee roasted alone, or see the open asks',
    example: '/spoon ask Chirinos 400g by thu',
    run: askTyped,
  },
  taps: {
    'ask.form': { for: 'ask for roast', run: (deps, tap) => openAskForm(deps, tap.who, EMPTY) },
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
    [NEW_ASK_FORM]: { for: 'ask for roast', run: newAskSubmitted },
    [OFFER_FORM]: { for: 'answer ask', run: offerSubmitted },
    [DECLINE_FORM]: { for: 'answer ask', run: declineSubmitted },
    [ROASTED_FORM]: { for: 'answer ask', run: roastedSubmitted },
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
  if (coffee && words.weight?.ok && !said) {
    const { mg } = words.weight;
    const day = roastDayBy(context, words.day?.ok ? words.day.day : null);
    return inTransaction(deps.db, async (trx) => ({
      message: await askWithoutTable(trx, context, coffee, mg, day),
    }));
  }
  const day = words.day?.ok ? words.day.day : null;
  return openAskForm(deps, typed.who, {
    coffeeId: coffee?.id ?? null,
    grams: words.weightSaid,
    day,
    said,
  });
}

/** What of the typed words could not be read, to stand at the top of the form. */
function notRead(words: ReturnType<typeof readAskWords>, noCoffee: boolean): string | null {
  if (words.day && !words.day.ok) return words.day.message;
  if (words.weight && !words.weight.ok) return words.weight.message;
  return noCoffee && words.name !== '' ? `I know no coffee called “${words.name}”. Which one is it?` : null;
}

async function openAsks(deps: Deps, who: Who): Promise<Answer> {
  const views = [];
  for (const { id } of await listAsks(deps.db, who.workspace, LIVE_ASKS)) {
    const view = await loadAskState(deps.db, who.workspace, id, deps.clock.now());
    if (view) views.push(view);
  }
  return { message: askListMessage(views, who.person) };
}
