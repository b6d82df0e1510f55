import { describe, expect, test } from 'vitest';
import { formatP, howOftenByLuck } from '../../../src/commands/tallying/verdict-words.js';

describe('a p-value said so that a newcomer can picture it', () => {
  test.each([
    [0.0004, 'less than once in 1000 tables'],
    [0.001, 'about once in 1000 tables'],
    [0.0034, 'about once in 300 tables'],
    [0.0156, 'about once in 60 tables'],
    [0.031, 'about once in 30 tables'],
    [0.0667, 'about once in 15 tables'],
    [0.16, 'about once in 6 tables'],
    [0.29, 'about once in 3 tables'],
    [0.31, 'at about 3 tables in 10'],
    [0.87, 'at about 9 tables in 10'],
    [0.96, 'at nearly every table'],
    [1, 'at nearly every table'],
  ])('%d is %s', (p, said) => {
    expect(howOftenByLuck(p)).toBe(said);
  });

  test('the figure itself never claims more than there is', () => {
    expect([0.00003, 0.0034, 0.03125, 0.05, 0.1, 0.867, 1].map(formatP)).toEqual([
      '< 0.001',
      '= 0.003',
      '= 0.031',
      '= 0.05',
      '= 0.10',
      '= 0.87',
      '= 1.00',
    ]);
  });

  test('a figure just below a limit of the verdict is not rounded onto it', () => {
    expect([0.0494, 0.0496, 0.04999, 0.05, 0.0504, 0.194, 0.1951, 0.19999, 0.2].map(formatP)).toEqual([
      '= 0.049',
      '< 0.05',
      '< 0.05',
      '= 0.05',
      '= 0.05',
      '= 0.19',
      '< 0.2',
      '< 0.2',
      '= 0.20',
    ]);
  });
});
