import { type Browser, chromium, type Page } from 'playwright-core';

const QUIET = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** Debian's Chromium, or the one named by CHROMIUM. */
export function launchBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium', args: QUIET });
}

/** A phone in somebody's hand: 390 × 844, touch, and whatever the page complains of collected. */
export async function openPhone(
  browser: Browser,
  url: string,
): Promise<{ readonly page: Page; readonly complaints: readonly string[] }> {
  const context = await browser.newContext({
    viewport: { width: 390, height: 844 },
    isMobile: true,
    hasTouch: true,
    locale: 'en-GB',
    timezoneId: 'Europe/Lisbon',
  });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(url);
  return { page, complaints };
}
