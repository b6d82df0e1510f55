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
  const bare = text.trim().replace(/^[€£$]\s*|\s*(?:[a-z]{3}|[€£$])$/giu, '');
  if (!/^\d{1,9}(?:[.,]\d{1,2})?$/u.test(bare)) return null;
  return Math.round(Number(bare.replace(',', '.')) * 100);
}
