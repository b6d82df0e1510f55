import { z } from 'zod';
import type { FactInput } from '../../domain/house/fact.js';
import { DEFAULT_HOUSE, type FactName, type ShownFact, showFacts } from '../../domain/house/house-facts.js';
import { WEEKDAY_NAMES } from '../../domain/when/local-day.js';
import { KindRefusal } from '../../runtime/errors.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import { chosen, type FormState, readValue, type Submission, type Tap, type Who } from '../common/intake.js';
import { requireKeeper } from '../common/standing.js';
import { changeHouse, FactNameValue, houseShown } from './house-change.js';
import { factForm, firstHouseForm } from './house-form.js';

/** The form of the first run. */
export async function openFirstForm(deps: Deps, who: Who): Promise<Answer> {
  const { house } = await houseShown(deps.db, who);
  requireKeeper(house, who.person);
  const stewards = house.stewards.length > 0 ? house.stewards : [who.person];
  return { form: firstHouseForm({ ...house, stewards }) };
}

/** The form of one fact. */
export async function openFactForm(deps: Deps, who: Who, name: FactName): Promise<Answer> {
  const shown = await houseShown(deps.db, who);
  requireKeeper(shown.house, who.person);
  const fact = shown.facts.find((known) => known.name === name);
  if (!fact) throw new KindRefusal('not found', 'I do not know that fact.', 'Type `/spoon house`.');
  return { form: factForm(fact) };
}

/** One fact chosen in the menu. */
export async function factTap(deps: Deps, tap: Tap): Promise<Answer> {
  return openFactForm(deps, tap.who, readValue(FactNameValue, tap.value));
}

/** Keeps what the first form says. */
export async function firstSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  return submit(deps, who, form, ({ isAskedFirst }) => isAskedFirst);
}

/** Keeps one fact. */
export async function factSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { fact } = readValue(z.object({ fact: FactNameValue }), form.privateMetadata);
  return submit(deps, who, form, ({ name }) => name === fact);
}

async function submit(
  deps: Deps,
  who: Who,
  form: FormState,
  isAsked: (fact: ShownFact) => boolean,
): Promise<SubmitAnswer> {
  const asked = showFacts(DEFAULT_HOUSE).filter(isAsked);
  const facts = asked.map(({ name, input }) => ({ name, input, words: wordsFor(name, input, form) }));
  const empty = facts.filter(({ input, words }) => words === '' && input.kind !== 'people');
  if (empty.length > 0) {
    return { errors: Object.fromEntries(empty.map(({ name }) => [name, 'This one is needed.'])) };
  }
  return changeHouse(
    deps,
    who,
    facts.map(({ name, words }) => ({ name, words: words === '' ? 'none' : words })),
  );
}

/** What was tapped or written, in the words one would type. */
function wordsFor(name: FactName, { kind }: FactInput, form: FormState): string {
  const values = chosen(form, name).map((value) => value.trim());
  switch (kind) {
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
