import { z } from 'zod';
import type { FactName } from '../../domain/house/house-facts.js';
import { WEEKDAY_NAMES } from '../../domain/when/local-day.js';
import { KindRefusal } from '../../runtime/errors.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import { chosen, type FormState, readValue, type Submission, type Tap, type Who } from '../common/intake.js';
import { requireKeeper } from '../common/standing.js';
import { changeHouse, FactNameValue, type FactWords, houseShown } from './house-change.js';
import { FIRST_FORM_FACTS, factForm, firstHouseForm } from './house-form.js';

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
  return { form: factForm(fact, shown.house) };
}

/** One fact chosen in the menu. */
export async function factTap(deps: Deps, tap: Tap): Promise<Answer> {
  return openFactForm(deps, tap.who, readValue(FactNameValue, tap.value));
}

/** Keeps what the first form says. */
export async function firstSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  return submit(deps, who, form, FIRST_FORM_FACTS);
}

/** Keeps one fact. */
export async function factSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { fact } = readValue(z.object({ fact: FactNameValue }), form.privateMetadata);
  return submit(deps, who, form, [fact]);
}

async function submit(
  deps: Deps,
  who: Who,
  form: FormState,
  names: readonly FactName[],
): Promise<SubmitAnswer> {
  const facts = names.map((name) => ({ name, words: wordsFor(name, form) }));
  const empty = facts.filter(({ name, words }) => words === '' && name !== 'stewards');
  if (empty.length > 0) {
    return { errors: Object.fromEntries(empty.map(({ name }) => [name, 'This one is needed.'])) };
  }
  return changeHouse(deps, who, facts.map(noneWhenEmpty));
}

function noneWhenEmpty(fact: FactWords[number]): FactWords[number] {
  return fact.words === '' ? { ...fact, words: 'none' } : fact;
}

/** What was tapped or written, in the words one would type. */
function wordsFor(name: FactName, form: FormState): string {
  const values = chosen(form, name).map((value) => value.trim());
  switch (name) {
    case 'roastDays':
      return values.map((day) => WEEKDAY_NAMES[Number(day)] ?? day).join(' ');
    case 'roasterPerson':
    case 'stewards':
      return values.map((person) => `<@${person}>`).join(' ');
    case 'channel':
      return values.map((channel) => `<#${channel}>`).join(' ');
    case 'drums':
      return (values[0] ?? '')
        .split('\n')
        .filter((line) => line.trim() !== '')
        .join('; ');
    case 'closedDays':
      return (values[0] ?? '')
        .split('\n')
        .filter((line) => line.trim() !== '')
        .join(', ');
    default:
      return values[0] ?? '';
  }
}
