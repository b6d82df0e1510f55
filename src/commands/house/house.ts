import { z } from 'zod';
import { FACT_GROUPS } from '../../domain/house/fact.js';
import {
  DEFAULT_HOUSE,
  type FactName,
  factExample,
  type ShownFact,
  showFact,
  showFacts,
  splitFact,
} from '../../domain/house/house-facts.js';
import { WEEKDAY_NAMES } from '../../domain/when/local-day.js';
import { mrkdwn } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { loadHouse } from '../../store/house.js';
import type { Answer, Deps, Feature, SubmitAnswer } from '../common/bot.js';
import {
  chosen,
  type FormState,
  readValue,
  type Submission,
  type Typed,
  type Who,
} from '../common/intake.js';
import { requireKeeper } from '../common/standing.js';
import { changeHouse, FactNameValue, houseCard, houseShown, resetHouseFact } from './house-change.js';
import { factForm, factGroupMessage, firstHouseForm } from './house-messages.js';

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

const OfFact = z.object({ fact: FactNameValue });
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

/** The form of the first run. */
async function openFirstForm(deps: Deps, who: Who): Promise<Answer> {
  const house = await loadHouse(deps.db, who.workspace);
  requireKeeper(house, who.person);
  const stewards = house.stewards.length > 0 ? house.stewards : [who.person];
  return { form: firstHouseForm({ ...house, stewards }) };
}

/** The form of one fact. */
async function openFactForm(deps: Deps, who: Who, name: FactName): Promise<Answer> {
  const house = await loadHouse(deps.db, who.workspace);
  requireKeeper(house, who.person);
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
