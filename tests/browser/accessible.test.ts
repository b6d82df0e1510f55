import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { fernhollow } from '../../src/local/scenario.js';
import { startWorkspace } from '../../src/local/workspace.js';
import { launchBrowser } from './browser.js';
import { type Puppet, startPuppet } from './puppet-bot.js';

// The rules are axe-core's for WCAG 2.2, levels A and AA.
const RULES = { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] };
const Findings = z.object({
  violations: z.array(z.object({ id: z.string(), nodes: z.array(z.object({ html: z.string() })) })),
  passes: z.array(z.object({ id: z.string() })),
});

type Workspace = Awaited<ReturnType<typeof startWorkspace>>;

let workspace: Workspace;
let puppet: Puppet;
let browser: Browser;

beforeAll(async () => {
  workspace = await startWorkspace({ scenario: fernhollow, pageDirectory: 'dist/local/page' });
  puppet = await startPuppet(workspace.apiUrl, workspace.botToken);
  workspace.connectBot(puppet.url);
  browser = await launchBrowser();
});

afterAll(async () => {
  await browser.close();
  await puppet.close();
  await workspace.close();
});

async function expectAccessible(page: Page): Promise<void> {
  await page.evaluate(axe.source);
  const found = Findings.parse(await page.evaluate(`axe.run(document, ${JSON.stringify(RULES)})`));
  expect(found.passes.length).toBeGreaterThan(5);
  expect(found.violations.map(({ id, nodes }) => [id, ...nodes.map(({ html }) => html)])).toEqual([]);
}

async function send(page: Page, text: string): Promise<void> {
  await page.getByRole('textbox', { name: /Write to/ }).fill(text);
  await page.getByRole('button', { name: 'Send' }).first().click();
}

const screens = [
  { size: 'phone', viewport: { width: 390, height: 844 } },
  { size: 'desk', viewport: { width: 1280, height: 800 } },
].flatMap((screen) => (['light', 'dark'] as const).map((colorScheme) => ({ ...screen, colorScheme })));

describe('the page can be used by everybody', () => {
  for (const { size, viewport, colorScheme } of screens) {
    it(`on a ${size} in the ${colorScheme}`, async () => {
      const context = await browser.newContext({ viewport, colorScheme });
      const page = await context.newPage();
      await page.goto(workspace.url);
      await page.getByRole('link', { name: /Teo/ }).waitFor();
      await expectAccessible(page);

      await page.getByRole('link', { name: /Teo/ }).click();
      await page.getByRole('link', { name: '#tasting-table' }).click();
      await send(page, '/spoon card');
      await page.locator('article', { hasText: 'T1 · Harbour Lamp' }).last().waitFor();
      await send(page, '/spoon fork');
      await page.locator('article', { hasText: 'Nothing is called' }).last().waitFor();
      await send(page, `lemon, says the ${size} in the ${colorScheme}, @noor`);
      const own = page.locator('article', { hasText: `says the ${size} in the ${colorScheme}` }).last();
      await own.getByRole('button', { name: 'What to do with this message' }).click();
      await own.getByRole('button', { name: 'React with yum' }).click();
      await own.getByRole('button', { name: 'yum: Teo' }).waitFor();
      await own.getByRole('button', { name: 'What to do with this message' }).click();
      await page.getByRole('button', { name: /notification reads aloud/ }).click();
      await expectAccessible(page);

      await own.getByRole('button', { name: 'Reply' }).click();
      await page.getByRole('textbox', { name: 'Reply in this thread' }).waitFor();
      await expectAccessible(page);

      await page.getByRole('link', { name: /Close the thread/ }).click();
      await send(page, '/spoon form');
      await page.getByRole('dialog').waitFor();
      await page.getByRole('button', { name: 'Book it' }).click();
      await page.getByText(/need another look/).waitFor();
      await expectAccessible(page);
      await page.getByRole('button', { name: 'Leave it' }).click();

      await page.getByRole('button', { name: /workspace time/ }).click();
      await page.getByRole('dialog', { name: 'Move the clock on' }).waitFor();
      await expectAccessible(page);
      await context.close();
    });
  }
});
