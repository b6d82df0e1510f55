import { expect, test } from 'vitest';
import { ACTIONS, type Action, may, type Standing, whoMay } from '../../../src/domain/record/permission.js';

const NOBODY: Standing = {
  host: false,
  steward: false,
  present: false,
  roaster: false,
  writer: false,
  unkept: false,
};

/** An invited taster, like anybody in the table's channel, is somebody at the table. */
const PEOPLE = {
  anyone: NOBODY,
  host: { ...NOBODY, host: true },
  steward: { ...NOBODY, steward: true },
  roaster: { ...NOBODY, roaster: true },
  writer: { ...NOBODY, writer: true },
  'somebody at the table': { ...NOBODY, present: true },
  'steward and host': { ...NOBODY, steward: true, host: true },
  'steward and roaster': { ...NOBODY, steward: true, roaster: true },
  'host and roaster': { ...NOBODY, host: true, roaster: true },
  'anyone, with no steward named': { ...NOBODY, unkept: true },
  'host, with no steward named': { ...NOBODY, host: true, unkept: true },
  'roaster, with no steward named': { ...NOBODY, roaster: true, unkept: true },
  'writer, with no steward named': { ...NOBODY, writer: true, unkept: true },
} as const satisfies Readonly<Record<string, Standing>>;
type Person = keyof typeof PEOPLE;

const EVERYBODY = Object.keys(PEOPLE);
const HOSTS: readonly Person[] = [
  'host',
  'steward and host',
  'host and roaster',
  'host, with no steward named',
];
const STEWARDS: readonly Person[] = ['steward', 'steward and host', 'steward and roaster'];
const HOSTS_AND_STEWARDS = [...HOSTS, ...STEWARDS];
const AT_THE_TABLE = [...HOSTS_AND_STEWARDS, 'somebody at the table'];
const ROASTERS_AND_STEWARDS: readonly Person[] = [
  'roaster',
  'host and roaster',
  'roaster, with no steward named',
  ...STEWARDS,
];
const KEEPERS = [...STEWARDS, ...EVERYBODY.filter((person) => person.includes('no steward'))];

/** Written from the rules of the house, not from the code: who is let through for each action. */
const LET_THROUGH: Readonly<Record<Action, readonly string[]>> = {
  taste: AT_THE_TABLE,
  'look at table': AT_THE_TABLE,
  'see own data': EVERYBODY,
  book: EVERYBODY,
  look: EVERYBODY,
  'ask for roast': EVERYBODY,
  'change note': ['writer', 'writer, with no steward named'],
  'see codes': HOSTS,
  'change table': HOSTS_AND_STEWARDS,
  'open table': HOSTS_AND_STEWARDS,
  pour: HOSTS_AND_STEWARDS,
  'show tally': HOSTS_AND_STEWARDS,
  'close table': HOSTS_AND_STEWARDS,
  decide: HOSTS_AND_STEWARDS,
  'cancel tasting': HOSTS_AND_STEWARDS,
  'answer ask': ROASTERS_AND_STEWARDS,
  'handle offer': HOSTS_AND_STEWARDS,
  'change shelf': EVERYBODY,
  'change recipe': EVERYBODY,
  'sign off recipe': STEWARDS,
  'teach words': EVERYBODY,
  'change house': KEEPERS,
};

const CELLS = Object.entries(PEOPLE).flatMap(([person, standing]) =>
  Object.entries(LET_THROUGH).map(([action, people]) => ({
    person,
    standing,
    action: action as Action,
    allowed: people.includes(person),
    word: people.includes(person) ? 'may' : 'may not',
  })),
);

test('every action has a row here', () => {
  expect([...ACTIONS].sort()).toEqual(Object.keys(LET_THROUGH).sort());
});

test.each(CELLS)('$person $word: $action', ({ standing, action, allowed }) => {
  expect(may(action, standing)).toBe(allowed);
});

test('a refusal can say whom the action is for', () => {
  expect(whoMay('close table')).toBe('the host and the stewards');
  expect(whoMay('see codes')).toBe('the host');
  expect(whoMay('answer ask')).toBe('the roaster it was sent to, or a steward');
  expect(whoMay('sign off recipe')).toBe('a steward');
});
