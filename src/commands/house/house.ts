import { z } from 'zod';
import { FACT_GROUPS } from '../../domain/house/fact.js';
import {
  DEFAULT_HOUSE,
  type FactName,
  factExample,
  HouseFacts,
  parseFact,
  type ShownFact,
  showFact,
  showFacts,
  splitFact,
} from '../../domain/house/house-facts.js';
import { WEEKDAY_NAMES } from '../../domain/when/local-day.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/notice.js';
import { UserError } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import { type Db, inTransaction } from '../../store/db.js';
import { listToldFacts, loadHouse, saveHouse } from '../../store/house.js';
import type { Answer, Deps, Feature, SubmitAnswer } from '../common/bot.js';
import {
  chosen,
  type FormState,
  readValue,
  type Submission,
  type Typed,
  type Who,
} from '../common/intake.js';
import { isKeeper, requireKeeper } from '../common/standing.js';
import { replanShelf } from '../planning/plan-roasts.js';
import {
  factForm,
  factGroupMessage,
  factText,
  firstHouseForm,
  type HouseShown,
  houseCardMessage,
} from './house-messages.js';

/** Names of house facts, as buttons and forms carry them. */
const FactNameValue = HouseFacts.keyof();
const OfFact = z.object({ fact: FactNameValue });

/** What a roastery tells the bot about itself, and where each default comes from. */
export const house: Feature = {
  verb: {
    name: 'house',
    does: 'Roastery facts: time zone, roaster, stewards, roast days, drums and every default',
    example: `/spoon house ${factExample('roastDays')}`,
    run: houseTyped,
  },
  taps: {
    'house.show': { for: 'look', run: async (deps, tap) => ({ message: await houseCard(deps.db, tap.who) }) },
    'house.group': {
      for: 'look',
      run: (deps, tap) => showGroup(deps, tap.who, readValue(z.string(), tap.value)),
    },
    'house.first': { for: 'change house', run: (deps, tap) => openFirstForm(deps, tap.who) },
    'house.fact': {
      for: 'change house',
      run: (deps, tap) => openFactForm(deps, tap.who, readValue(FactNameValue, tap.value)),
    },
    'house.reset': {
      for: 'change house',
      run: (deps, tap) => resetHouseFact(deps, tap.who, readValue(FactNameValue, tap.value)),
    },
  },
  forms: {
    'house.first': {
      for: 'change house',
      run: (deps, submission) => submit(deps, submission, ({ isAskedFirst }) => isAskedFirst),
    },
    'house.fact': {
      for: 'change house',
      run: async (deps, submission) => {
        const { fact } = readValue(OfFact, submission.form.privateMetadata);
        return submit(deps, submission, ({ name }) => name === fact);
      },
    },
  },
  subjects: {},
};

const RESET = /^(?:default|reset|standard)$/iu;

/** `house …`: the card, a group, or one fact changed in words. */
async function houseTyped(deps: Deps, typed: Typed): Promise<Answer> {
  const words = typed.words.trim();
  if (words === '') return { message: await houseCard(deps.db, typed.who) };
  if (/^(?:set ?up|first)$/iu.test(words)) return openFirstForm(deps, typed.who);
  const group = FACT_GROUPS.find((known) =>
    [known.key, known.title.toLowerCase()].includes(words.toLowerCase()),
  );
  if (group) return showGroup(deps, typed.who, group.key);
  const said = splitFact(words);
  if (said === null) {
    throw new UserError(
      `I do not know the house fact “${mrkdwn(words.slice(0, 80))}”.`,
      `Type \`/spoon house\` to see them all, or like \`/spoon house ${factExample('roastDays')}\`.`,
    );
  }
  if (said.words === '') return openFactForm(deps, typed.who, said.name);
  if (RESET.test(said.words)) return resetHouseFact(deps, typed.who, said.name);
  // "steward @bram" adds one; "stewards @ines @bram" says who they are.
  const adds = /^steward$/iu.test(said.called) && /<@/u.test(said.words);
  const { stewards } = await loadHouse(deps.db, typed.who.workspace);
  const before = adds ? stewards.map((person) => `<@${person}>`).join(' ') : '';
  return changeHouse(deps, typed.who, [{ name: said.name, words: `${before} ${said.words}`.trim() }]);
}

/** One group of facts. */
async function showGroup(deps: Deps, who: Who, key: string): Promise<Answer> {
  const group = FACT_GROUPS.find((known) => known.key === key);
  const shown = await houseShown(deps.db, who);
  return { message: group ? factGroupMessage(group, shown) : await houseCard(deps.db, who) };
}

/** The house, for somebody who may change it. */
async function loadKept(db: Db, who: Who): Promise<HouseFacts> {
  const house = await loadHouse(db, who.workspace);
  requireKeeper(house, who.person);
  return house;
}

/** The form of the first run. */
async function openFirstForm(deps: Deps, who: Who): Promise<Answer> {
  const house = await loadKept(deps.db, who);
  const stewards = house.stewards.length > 0 ? house.stewards : [who.person];
  return { form: firstHouseForm({ ...house, stewards }) };
}

/** The form of one fact. */
async function openFactForm(deps: Deps, who: Who, name: FactName): Promise<Answer> {
  const house = await loadKept(deps.db, who);
  return { form: factForm(showFact(name, house)) };
}

/** Changes the facts that a form asked for; all but a list of people have to be filled in. */
async function submit(
  deps: Deps,
  { who, form }: Submission,
  isAsked: (fact: ShownFact) => boolean,
): Promise<SubmitAnswer> {
  const errors: Record<string, string> = {};
  const facts = showFacts(DEFAULT_HOUSE)
    .filter(isAsked)
    .map((fact) => {
      const words = wordsFor(fact, form);
      if (words === '' && fact.input.kind !== 'people') errors[fact.name] = 'This one is needed.';
      return { name: fact.name, words: words || 'none' };
    });
  return Object.keys(errors).length > 0 ? { errors } : changeHouse(deps, who, facts);
}

/** What was tapped or written, in the words one would type. */
function wordsFor({ name, input }: ShownFact, form: FormState): string {
  const values = chosen(form, name).map((value) => value.trim());
  switch (input.kind) {
    case 'weekdays':
      return values.map((day) => WEEKDAY_NAMES[Number(day)] ?? day).join(' ');
    case 'person':
    case 'people':
      return values.map((person) => `<@${person}>`).join(' ');
    case 'channel':
      return values.map((channel) => `<#${channel}>`).join(' ');
    case 'lines':
      return (values[0] ?? '')
        .split('\n')
        .filter((line) => line.trim() !== '')
        .join('; ');
    case 'line':
    case 'choices':
      return values[0] ?? '';
  }
}

/** Facts given in words, by name: what a form or a command says. */
type FactWords = readonly { readonly name: FactName; readonly words: string }[];

/** The house as this person sees it. */
async function houseShown(db: Db, who: Who): Promise<HouseShown> {
  const house = await loadHouse(db, who.workspace);
  return {
    facts: showFacts(house),
    told: await listToldFacts(db, who.workspace),
    mayChange: isKeeper(house, who.person),
  };
}

/** The house card; `done` says what just happened. */
async function houseCard(db: Db, who: Who, done?: string): Promise<Message> {
  return houseCardMessage(await houseShown(db, who), done);
}

/**
 * Changes facts from words, all or none; asks and tables that depend on them are worked out anew.
 *
 * @throws {UserError} naming the fact (its input) that could not be read, or when the person is no steward
 */
async function changeHouse(deps: Deps, who: Who, facts: FactWords): Promise<Answer> {
  return inTransaction(deps.db, async (trx) => {
    const before = await loadKept(trx, who);
    let house = before;
    const said: string[] = [];
    for (const { name, words } of facts) {
      const parsed = parseFact(name, words, house);
      if (!parsed.ok) throw new UserError(mrkdwn(parsed.message), null, name);
      house = parsed.house;
      if (JSON.stringify(house[name]) !== JSON.stringify(before[name])) said.push(factText(parsed.said));
    }
    const told = Object.fromEntries(facts.map(({ name }) => [name, house[name]]));
    const now = deps.clock.now();
    await saveHouse(trx, who.workspace, told, who.person, now);
    await showAnew(trx, who, now, [before, house]);
    const done = said.length > 0 ? `Kept: ${said.join('; ')}.` : 'Kept; nothing is different.';
    return { message: await houseCard(trx, who, done) };
  });
}

/** Puts one fact back to its default. */
async function resetHouseFact(deps: Deps, who: Who, name: FactName): Promise<Answer> {
  return inTransaction(deps.db, async (trx) => {
    const before = await loadKept(trx, who);
    const now = deps.clock.now();
    await saveHouse(trx, who.workspace, { [name]: undefined }, who.person, now);
    const house = await loadHouse(trx, who.workspace);
    await showAnew(trx, who, now, [before, house]);
    const { label, value } = showFact(name, house);
    return { message: await houseCard(trx, who, `Back to the default: ${label} ${factText(value)}.`) };
  });
}

/** Tables and asks follow, and so does what the people concerned see on their home tab. */
async function showAnew(trx: Db, who: Who, now: Date, houses: readonly HouseFacts[]): Promise<void> {
  await replanShelf(trx, { workspace: who.workspace, who: who.person, now });
  const people = new Set(houses.flatMap((house) => [...house.stewards, house.roasterPerson ?? []].flat()));
  for (const person of people) await markChanged(trx, who.workspace, `person:${person}`, now);
}
