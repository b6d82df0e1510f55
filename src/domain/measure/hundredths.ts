import { plainNumber } from './weight.js';

/** Whole hundredths of a number with two decimals at most, a point or a comma before them; null when it is none. */
function readHundredths(text: string, mostDigits: number): number | null {
  const [whole = ''] = /^\d+(?=(?:[.,]\d{1,2})?$)/u.exec(text) ?? [];
  const isNumber = whole !== '' && whole.length <= mostDigits;
  return isNumber ? Math.round(Number(text.replace(',', '.')) * 100) : null;
}

/**
 * Money as people of the trade write it: "€9.84", "£12.00", "9.84 CHF" where there is no short sign.
 *
 * @param cents whole hundredths of the currency
 * @param currency ISO 4217 code, like EUR
 */
export function formatMoney(cents: number, currency: string): string {
  const format = new Intl.NumberFormat('en-GB', {
    style: 'currency',
    currency,
    currencyDisplay: 'narrowSymbol',
  });
  return format.format(Math.round(cents) / 100);
}

/** Whether the words are a currency code that can be shown. */
export function isCurrency(code: string): boolean {
  return /^[A-Z]{3}$/u.test(code) && Intl.supportedValuesOf('currency').includes(code);
}

/** Reads "9.84", "9,84", "€9.84", "9.84 eur" as whole cents; null when it is no amount of money. */
export function parseMoney(text: string): number | null {
  return readHundredths(text.trim().replace(/^[€£$]\s*|\s*(?:[a-z]{3}|[€£$])$/giu, ''), 9);
}

/** Hundredths of a percent in the whole: 10 000. */
export const WHOLE_BP = 10_000;

/** "15.5 %" from 1550 hundredths of a percent. */
export function formatBp(bp: number): string {
  return `${plainNumber(bp / 100, 2)} %`;
}

/** Reads "15.5 %", "15,5" or "15.5 percent" as hundredths of a percent; null when it is none from 0 to 100. */
export function parseBp(text: string): number | null {
  const bp = readHundredths(text.trim().replace(/\s*(?:%|percent|points?)$/iu, ''), 3);
  return bp !== null && bp <= WHOLE_BP ? bp : null;
}
