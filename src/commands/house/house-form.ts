import type { ModalView } from '@slack/types';
import type { FactName, HouseFacts } from '../../domain/house/house-facts.js';
import { type ShownFact, showFacts } from '../../domain/house/parse-fact.js';
import { context } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { form } from '../../kit/form.js';
import { factInput } from './house-inputs-message.js';

/** What the form of the first run asks: what cannot be guessed, and nothing else. */
export const FIRST_FORM_FACTS = [
  'timeZone',
  'roastDays',
  'roasterPerson',
  'stewards',
  'drums',
] as const satisfies readonly FactName[];

/** The form of the first run. */
export function firstHouseForm(house: HouseFacts): ModalView {
  const facts = showFacts(house);
  const inputs = FIRST_FORM_FACTS.flatMap((name) => {
    const fact = facts.find((known) => known.name === name);
    return fact ? [factInput(fact, house)] : [];
  });
  return form('house.first', 'Set up the house', 'Save', inputs);
}

/** The form of one fact, with where its default comes from. */
export function factForm(fact: ShownFact, house: HouseFacts): ModalView {
  const source = fact.source === null ? [] : [context(`Default: ${mrkdwn(fact.source)}`)];
  return form('house.fact', 'Change the house', 'Save', [factInput(fact, house), ...source], {
    fact: fact.name,
  });
}
