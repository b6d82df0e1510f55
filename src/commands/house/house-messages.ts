import type { ActionsBlock, InputBlock, ModalView } from '@slack/types';
import { FACT_GROUPS, type FactGroup } from '../../domain/house/fact.js';
import { type FactName, type HouseFacts, type ShownFact, showFacts } from '../../domain/house/house-facts.js';
import { WEEKDAY_NAMES } from '../../domain/when/local-day.js';
import { button, buttons, context, header, plainText, section, sections } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import {
  type Choice,
  channelInput,
  checkInput,
  form,
  peopleInput,
  personInput,
  radioInput,
  textInput,
} from '../../kit/form.js';
import type { Message } from '../../kit/notice.js';

/** The facts of a house, and whether the person who looks may change them. */
export type HouseShown = {
  readonly facts: readonly ShownFact[];
  /** Facts the house has told itself. */
  readonly told: ReadonlySet<FactName>;
  readonly mayChange: boolean;
};

/** The house at a glance: what only it can know, and the way to everything else. */
export function houseCardMessage(shown: HouseShown, done?: string): Message {
  const [first, ...others] = FACT_GROUPS;
  const lines = shown.facts
    .filter(({ group }) => group === first.key)
    .map((fact) => `*${fact.label}:* ${factText(fact.value)}`);
  const fresh = shown.told.size === 0;
  const intro = fresh
    ? 'Nothing is set up yet. One form asks what only you can know; everything else has a default.'
    : 'Everything else has a default: open a group to see what it is and where it comes from.';
  return {
    text: [done, 'House facts', intro].filter((text) => text !== undefined).join(' · '),
    blocks: [
      ...(done ? [section(done)] : [header('House')]),
      ...sections(lines),
      context(intro),
      ...(shown.mayChange
        ? [
            ...buttons(button('Set up', 'house.first', {}, fresh ? { style: 'primary' } : {})),
            pickFact(shown.facts),
          ]
        : []),
      ...buttons(...others.map((group) => button(group.title, `house.group#${group.key}`, group.key))),
    ],
  };
}

/** One group of facts: each with its value, and for a default where it comes from. */
export function factGroupMessage(group: FactGroup, shown: HouseShown): Message {
  const facts = shown.facts.filter((fact) => fact.group === group.key);
  const own = facts.filter((fact) => shown.told.has(fact.name));
  return {
    text: `${group.title}: ${facts.map((fact) => `${fact.label} ${factText(fact.value)}`).join('; ')}`,
    blocks: [
      header(group.title),
      ...sections(
        facts.map((fact) => {
          const source = fact.source === null ? '' : `\n_Default: ${mrkdwn(fact.source)}_`;
          return `*${fact.label}:* ${factText(fact.value)}${source}`;
        }),
      ),
      ...(shown.mayChange ? [pickFact(facts)] : [context('A steward can change these.')]),
      ...buttons(
        ...(shown.mayChange
          ? own.map((fact) => button(`Default for ${fact.label}`, `house.reset#${fact.name}`, fact.name))
          : []),
        button('House', 'house.show', {}),
      ),
    ],
  };
}

/** A value with people and channels as Slack shows them, everything else escaped. */
export function factText(value: string): string {
  return mrkdwn(value).replace(/&lt;([@#][A-Z0-9]+)&gt;/gu, '<$1>');
}

function pickFact(facts: readonly ShownFact[]): ActionsBlock {
  return {
    type: 'actions',
    elements: [
      {
        type: 'static_select',
        action_id: 'house.fact',
        placeholder: plainText('Change one of these', 150),
        options: facts.map((fact) => ({
          text: plainText(fact.value.includes('<') ? fact.label : `${fact.label}: ${plain(fact.value)}`, 75),
          value: JSON.stringify(fact.name),
        })),
      },
    ],
  };
}

/** The form of the first run: it asks what cannot be guessed, and nothing else. */
export function firstHouseForm(house: HouseFacts): ModalView {
  const facts = showFacts(house).filter(({ isAskedFirst }) => isAskedFirst);
  return form('house.first', 'Set up the house', 'Save', facts.map(factInput));
}

/** The form of one fact, with where its default comes from. */
export function factForm(fact: ShownFact): ModalView {
  const source = fact.source === null ? [] : [context(`Default: ${mrkdwn(fact.source)}`)];
  return form('house.fact', 'Change the house', 'Save', [factInput(fact), ...source], { fact: fact.name });
}

/** The input for one fact: people and days to tap, two-way choices to tap, words for the rest. */
function factInput(fact: ShownFact): InputBlock {
  const { name, input, filledIn } = fact;
  const label = input.question ?? `${fact.label.charAt(0).toUpperCase()}${fact.label.slice(1)}`;
  const [initial] = filledIn ?? [];
  switch (input.kind) {
    case 'choices':
      return radioInput(name, label, input.choices ?? [], { initial });
    case 'person':
      return personInput(name, label, { initial });
    case 'people':
      return peopleInput(name, label, { optional: true, initial: filledIn });
    case 'weekdays':
      return checkInput(name, label, weekdays(), { initial: filledIn });
    case 'channel':
      return channelInput(name, label, { hint: input.hint ?? '', initial });
    case 'line':
    case 'lines':
      return wordsInput(fact, label);
  }
}

function wordsInput({ name, value, example, input, filledIn }: ShownFact, label: string): InputBlock {
  const lines = input.kind === 'lines';
  if (filledIn === null) {
    const hint = `Now: ${plain(value)}. Like: ${plain(example)}.`;
    return textInput(name, label, { placeholder: plain(example), hint, lines, limit: 600 });
  }
  const initial = filledIn.join('\n');
  if (lines) return textInput(name, label, { lines, initial, hint: input.hint ?? '', limit: 600 });
  return textInput(name, label, { initial, placeholder: example, limit: 60 });
}

function weekdays(): readonly Choice[] {
  // The week of a roastery begins on Monday.
  return [1, 2, 3, 4, 5, 6, 0].map((day) => ({ label: WEEKDAY_NAMES[day] ?? '', value: String(day) }));
}
