/** Month numbers by name and usual short forms, 1 to 12. */
export const MONTHS: ReadonlyMap<string, number> = namesOf(
  [
    ['january', 'jan'],
    ['february', 'feb'],
    ['march', 'mar'],
    ['april', 'apr'],
    ['may'],
    ['june', 'jun'],
    ['july', 'jul'],
    ['august', 'aug'],
    ['september', 'sept', 'sep'],
    ['october', 'oct'],
    ['november', 'nov'],
    ['december', 'dec'],
  ],
  1,
);

/** Weekday numbers by name and usual short forms, 0 for Sunday. */
export const WEEKDAYS: ReadonlyMap<string, number> = namesOf(
  [
    ['sunday', 'sun', 'sundays'],
    ['monday', 'mon', 'mondays'],
    ['tuesday', 'tue', 'tues', 'tuesdays'],
    ['wednesday', 'wed', 'weds', 'wednesdays'],
    ['thursday', 'thu', 'thur', 'thurs', 'thursdays'],
    ['friday', 'fri', 'fridays'],
    ['saturday', 'sat', 'saturdays'],
  ],
  0,
);

/** Small numbers people write out: "in two days", "in a week". */
export const SMALL_NUMBERS: ReadonlyMap<string, number> = new Map([
  ...namesOf(
    [
      ['a', 'an', 'one'],
      ['two'],
      ['three'],
      ['four'],
      ['five'],
      ['six'],
      ['seven'],
      ['eight'],
      ['nine'],
      ['ten'],
    ],
    1,
  ),
]);

function namesOf(rows: readonly (readonly string[])[], first: number): ReadonlyMap<string, number> {
  return new Map(
    rows.flatMap((names, index) => names.map((name): [string, number] => [name, index + first])),
  );
}
