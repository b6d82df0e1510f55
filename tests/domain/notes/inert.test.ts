import { expect, test } from 'vitest';
import { claims, readOne } from './fixture-notes.js';

test('what rises as a cup cools is no flower, whether or not the note says more', () => {
  expect(claims(readOne('acidity rose'))).toEqual(['acidity']);
  expect(claims(readOne('bitterness rose, plum'))).toEqual(['bitter', 'plum']);
  expect(claims(readOne('rose, plum'))).toEqual(['rose', 'plum']);
});
