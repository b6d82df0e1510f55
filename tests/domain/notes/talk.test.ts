import { expect, test } from 'vitest';
import { readAtTable } from './fixture-notes.js';

test('where a flavour sits in the mouth is tasting, not talk of the room', () => {
  expect(
    readAtTable('strawberry up front, chocolate behind', 'E').mentions.map(({ attribute }) => attribute),
  ).toEqual(['strawberry', 'chocolate']);
});
