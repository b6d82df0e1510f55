import type { Browser, Locator, Page } from 'playwright-core';
import { openPhone } from './browser.js';

/** One person with a phone: what their thumb does on the page, in the words the page shows. */
export interface Phone {
  readonly page: Page;
  readonly complaints: readonly string[];
  openChannel(): Promise<void>;
  openDirect(): Promise<void>;
  /** Goes into the thread under a message of the channel. */
  openThread(text: string | RegExp): Promise<void>;
  leaveThread(): Promise<void>;
  /** Writes in the channel, or in the thread when one is open. */
  say(text: string): Promise<void>;
  /** A message where one looks: in the channel or, when one is open, in the thread. */
  slip(text: string | RegExp): Locator;
  tap(slip: Locator, button: string | RegExp): Promise<void>;
  edit(slip: Locator, words: string): Promise<void>;
  remove(slip: Locator): Promise<void>;
  /** The form on top, once it is open. */
  form(title: string | RegExp): Promise<Locator>;
  moveClockTo(wallTime: string): Promise<void>;
  close(): Promise<void>;
}

export async function phoneOf(browser: Browser, url: string, handle: string): Promise<Phone> {
  const { page, complaints } = await openPhone(browser, `${url}/#/${handle}`);
  await page.getByText('You are').waitFor();
  const menu = (slip: Locator) => slip.getByRole('button', { name: 'What to do with this message' });
  const inFront = () => (/#\/[^/]+\/[^/]+\/./.test(page.url()) ? '.thread' : '.room');
  async function toList(): Promise<void> {
    await page.goto(`${url}/#/${handle}`);
    await page.getByText('You are').waitFor();
  }
  return {
    page,
    complaints,
    openChannel: async () => {
      await toList();
      await page.getByRole('link', { name: /#tasting-table/ }).click();
      await page.getByRole('textbox', { name: /Write to/ }).waitFor();
    },
    openDirect: async () => {
      await toList();
      await page.getByRole('link', { name: /^Tallyspoon(?!.s home)/ }).click();
      await page.getByRole('textbox', { name: /Write to/ }).waitFor();
    },
    openThread: async (text) => {
      const slip = page.locator('.room article', { hasText: text }).last();
      await menu(slip).click();
      await slip.getByRole('button', { name: 'Reply', exact: true }).click();
      await page.getByRole('textbox', { name: 'Reply in this thread' }).waitFor();
    },
    leaveThread: () => page.getByRole('link', { name: /Close the thread/ }).click(),
    say: async (text) => {
      const composer = page.locator(`${inFront()} form.composer`);
      const box = composer.getByRole('textbox');
      await box.fill(text);
      await composer.getByRole('button', { name: 'Send' }).click();
      if (!text.startsWith('/'))
        await page
          .locator(inFront())
          .locator('article', { hasText: text.split('\n')[0] ?? '' })
          .last()
          .waitFor();
    },
    slip: (text) => page.locator(inFront()).locator('article', { hasText: text }).last(),
    tap: async (slip, button) => {
      await slip.getByRole('button', { name: button }).first().click();
    },
    edit: async (slip, words) => {
      await menu(slip).click();
      await slip.getByRole('button', { name: 'Edit' }).click();
      const box = page.getByRole('textbox', { name: 'The message’s new words' });
      await box.fill(words);
      await page.getByRole('button', { name: 'Save' }).click();
      await box.waitFor({ state: 'detached' });
    },
    remove: async (slip) => {
      await menu(slip).click();
      await slip.getByRole('button', { name: 'Delete' }).click();
      await page.getByRole('dialog').getByRole('button', { name: 'Delete' }).click();
    },
    form: async (title) => {
      const form = page.getByRole('dialog', { name: title });
      await form.waitFor();
      return form;
    },
    moveClockTo: async (wallTime) => {
      await page.getByRole('button', { name: /workspace time/ }).click();
      await page.getByLabel('To', { exact: true }).fill(wallTime);
      await page.getByRole('button', { name: 'Move on' }).click();
      await page.getByRole('dialog').waitFor({ state: 'detached' });
    },
    close: () => page.context().close(),
  };
}
