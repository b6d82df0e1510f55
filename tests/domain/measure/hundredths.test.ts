import { expect, test } from 'vitest';
import {
  formatBp,
  formatMoney,
  isCurrency,
  parseBp,
  parseMoney,
} from '../../../src/domain/measure/hundredths.js';
import { counted, plainList } from '../../../src/domain/measure/plain-list.js';

test.each([
  [984, 'EUR', '€9.84'],
  [123_456, 'GBP', '£1,234.56'],
  [5, 'USD', '$0.05'],
])('%i cents of %s are %s', (cents, currency, text) => {
  expect(formatMoney(cents, currency)).toBe(text);
});

test.each([
  ['9.84', 984],
  ['9,8', 980],
  ['€9.84', 984],
  ['9.84 eur', 984],
  ['12', 1200],
])('“%s” is %i cents', (text, cents) => {
  expect(parseMoney(text)).toBe(cents);
});

test.each(['', 'much', '9.845', '-3'])('“%s” is no amount of money', (text) => {
  expect(parseMoney(text)).toBeNull();
});

test('currencies are those the world knows', () => {
  expect(isCurrency('EUR')).toBe(true);
  expect(isCurrency('QQQ')).toBe(false);
  expect(isCurrency('eur')).toBe(false);
});

test.each([
  ['15.5 %', 1550],
  ['15,5', 1550],
  ['13 percent', 1300],
  ['100%', 10_000],
])('“%s” is %i hundredths of a percent', (text, bp) => {
  expect(parseBp(text)).toBe(bp);
});

test('a share beyond all of it is none', () => {
  expect(parseBp('101 %')).toBeNull();
  expect(parseBp('a bit')).toBeNull();
  expect(formatBp(1550)).toBe('15.5 %');
});

test('lists read as a person would say them', () => {
  expect(plainList([])).toBe('');
  expect(plainList(['Chirinos'])).toBe('Chirinos');
  expect(plainList(['Chirinos', 'Kayanza Hill', 'Nubosa Natural'])).toBe(
    'Chirinos, Kayanza Hill and Nubosa Natural',
  );
  expect(counted(1, 'day')).toBe('1 day');
  expect(counted(3, 'day')).toBe('3 days');
});
