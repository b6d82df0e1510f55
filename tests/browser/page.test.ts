import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fernhollow } from '../../src/local/scenario.js';
import { startWorkspace } from '../../src/local/workspace.js';
import { launchBrowser, openPhone } from './browser.js';
import { type Puppet, startPuppet } from './puppet-bot.js';

type Workspace = Awaited<ReturnType<typeof startWorkspace>>;

let workspace: Workspace;
let puppet: Puppet;
let browser: Browser;

beforeAll(async () => {
  workspace = await startWorkspace({
    port: 0,
    databaseFile: ':memory:',
    scenario: fernhollow,
    pageDirectory: 'dist/local/page',
  });
  puppet = await startPuppet(workspace.apiUrl, workspace.botToken);
  workspace.connectBot(puppet.url);
  browser = await launchBrowser();
});

afterAll(async () => {
  await browser.close();
  await puppet.close();
  await workspace.close();
});

/** A PNG of one pixel. */
const ONE_PIXEL =
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==';

async function become(name: string, path = ''): Promise<{ page: Page; complaints: readonly string[] }> {
  return openPhone(browser, `${workspace.url}/#/${name}${path}`);
}

/** As a person, in the tasting channel. */
async function inChannel(name: string): Promise<{ page: Page; complaints: readonly string[] }> {
  const phone = await become(name);
  await phone.page.getByRole('link', { name: '#tasting-table' }).click();
  await phone.page.getByRole('textbox', { name: /Write to/ }).waitFor();
  return phone;
}

async function say(page: Page, text: string, box: RegExp = /Write to/): Promise<void> {
  await page.getByRole('textbox', { name: box }).fill(text);
  await page
    .locator('form', { has: page.getByRole('textbox', { name: box }) })
    .getByRole('button', { name: 'Send' })
    .click();
}

function slip(page: Page, text: string | RegExp) {
  return page.locator('.room article', { hasText: text });
}

describe('the page on a phone', () => {
  it('asks whose phone it is and leads to the channel', async () => {
    const { page } = await openPhone(browser, workspace.url);
    await page.getByRole('link', { name: /Noor/ }).click();
    await page.getByRole('link', { name: '#tasting-table' }).click();
    await page.getByRole('heading', { name: '#tasting-table' }).waitFor();
    await page.goBack();
    await page.getByText('You are Noor').waitFor();
    expect(new URL(page.url()).hash).toBe('#/noor');
    await page.context().close();
  });

  it('shows what one person says, changes and takes back to another at once', async () => {
    const noor = await inChannel('noor');
    const teo = await inChannel('teo');
    await say(noor.page, 'kettle is on <b>now</b> & hot 🫖');
    await slip(teo.page, 'kettle is on <b>now</b> & hot 🫖').waitFor();

    const own = slip(noor.page, 'kettle is on');
    await own.getByRole('button', { name: 'What to do with this message' }).click();
    await own.getByRole('button', { name: 'Edit' }).click();
    const words = noor.page.getByRole('textbox', { name: 'The message’s new words' });
    expect(await words.inputValue()).toBe('kettle is on <b>now</b> & hot 🫖');
    await words.fill('kettle is off');
    await noor.page.getByRole('button', { name: 'Save' }).click();
    await slip(teo.page, 'kettle is off').getByText('edited').waitFor();

    await slip(teo.page, 'kettle is off')
      .getByRole('button', { name: 'What to do with this message' })
      .click();
    expect(await teo.page.getByRole('button', { name: 'Edit' }).count()).toBe(0);
    await teo.page.getByRole('button', { name: 'React with +1' }).click();
    await slip(noor.page, 'kettle is off').getByRole('button', { name: '+1: Teo' }).waitFor();

    await slip(noor.page, 'kettle is off')
      .getByRole('button', { name: 'What to do with this message' })
      .click();
    await noor.page.getByRole('button', { name: 'Delete' }).click();
    await noor.page.getByRole('dialog').getByRole('button', { name: 'Delete' }).click();
    await slip(teo.page, 'kettle is off').waitFor({ state: 'detached' });
    expect([...noor.complaints, ...teo.complaints]).toEqual([]);
    await noor.page.context().close();
    await teo.page.context().close();
  });

  it('sends a picture along and shows it large to another', async () => {
    const noor = await inChannel('noor');
    const sol = await inChannel('sol');
    await noor.page
      .locator('input[type=file]')
      .setInputFiles({ name: 'crust.png', mimeType: 'image/png', buffer: Buffer.from(ONE_PIXEL, 'base64') });
    await noor.page.getByText('Goes along: crust.png').waitFor();
    await say(noor.page, 'the crust of C');
    const shown = slip(sol.page, 'the crust of C');
    await shown.getByRole('button', { name: 'crust.png' }).click();
    const large = sol.page.getByRole('dialog', { name: 'Picture' });
    await large.waitFor();
    await expect.poll(() => sol.page.evaluate('document.querySelector("dialog img")?.naturalWidth')).toBe(1);
    await sol.page.getByRole('button', { name: 'Close the picture' }).click();
    await large.waitFor({ state: 'detached' });
    expect([...noor.complaints, ...sol.complaints]).toEqual([]);
    await noor.page.context().close();
    await sol.page.context().close();
  });

  it('keeps a command’s private answer private', async () => {
    const noor = await inChannel('noor');
    const teo = await inChannel('teo');
    await say(noor.page, '/spoon fork');
    await slip(noor.page, 'Nothing is called fork').getByText('only you can see this').waitFor();
    await say(noor.page, 'after the fork');
    await slip(teo.page, 'after the fork').waitFor();
    expect(await slip(teo.page, 'Nothing is called fork').count()).toBe(0);
    await noor.page.context().close();
    await teo.page.context().close();
  });

  it('counts unread messages where one is not looking', async () => {
    const teo = await become('teo');
    const noor = await inChannel('noor');
    await say(noor.page, 'anyone there?');
    await teo.page
      .getByRole('img', { name: /unread/ })
      .first()
      .waitFor();
    await teo.page.getByRole('link', { name: /#tasting-table/ }).click();
    await slip(teo.page, 'anyone there?').waitFor();
    await teo.page.getByRole('link', { name: 'Back to the list' }).click();
    await teo.page
      .getByRole('img', { name: /unread/ })
      .first()
      .waitFor({ state: 'detached' });
    expect(teo.complaints).toEqual([]);
    await teo.page.context().close();
    await noor.page.context().close();
  });

  it('asks before a tap that the bot wants confirmed, and shows what the tap did', async () => {
    const { page, complaints } = await inChannel('bram');
    await say(page, '/spoon card');
    const card = slip(page, 'T1 · Harbour Lamp');
    await card.getByRole('button', { name: 'Cancel' }).click();
    await page.getByRole('dialog').getByText('Everybody is told.').waitFor();
    await page.getByRole('button', { name: 'Keep it' }).click();
    await card.getByRole('button', { name: 'Accept' }).click();
    await slip(page, 'Accepted by @Bram').waitFor();
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it('refuses a command in a thread and says what to type instead', async () => {
    const { page } = await inChannel('mika');
    await say(page, 'a thread begins');
    await slip(page, 'a thread begins').getByRole('button', { name: 'What to do with this message' }).click();
    await page.getByRole('button', { name: 'Reply', exact: true }).click();
    await say(page, '/spoon tally', /Reply in this thread/);
    await page.getByText('Slash commands do not work inside a thread.').waitFor();
    expect(await page.getByRole('textbox', { name: /Reply in this thread/ }).inputValue()).toBe(
      '/spoon tally',
    );
    await say(page, '@Tallyspoon tally', /Reply in this thread/);
    await page.locator('.thread article', { hasText: '@Tallyspoon tally' }).waitFor();
    await page.getByRole('link', { name: /Close the thread/ }).click();
    await slip(page, 'a thread begins')
      .getByRole('button', { name: /1 reply/ })
      .waitFor();
    await page.context().close();
  });

  it('fills in every kind of field, shows errors beside them and hands the form in', async () => {
    const { page, complaints } = await inChannel('ines');
    await say(page, '/spoon form');
    const form = page.getByRole('dialog', { name: 'Book a tasting' });
    await form.getByLabel('Blend').selectOption('Night Ferry');
    await form.getByLabel('Other ratios').fill('2:1:1\n40/40/20%');
    await form.locator('summary').first().click();
    await form.getByLabel('Noor (@noor)').first().check();
    await form.getByLabel('Host').selectOption({ label: 'Bram (@bram)' });
    await form.getByLabel('Where').selectOption({ label: '#tasting-table' });
    await form.getByLabel('Blind').check();
    await form.getByLabel('Purge').check();
    await form.locator('summary').nth(1).click();
    await form.getByLabel('Chirinos').check();
    await form.getByLabel('Kayanza Hill').check();
    await form.getByLabel('Day').fill('2026-11-27');
    await form.getByLabel('Time').fill('14:05');
    await form.getByLabel('Dose').fill('11.5');

    await form.getByRole('button', { name: 'Look closer' }).click();
    await page.getByRole('dialog', { name: 'A closer look' }).getByRole('button', { name: 'Back' }).click();
    expect(await form.getByLabel('Dose').inputValue()).toBe('11.5');

    await form.getByRole('button', { name: 'Book it' }).click();
    await form.getByText('Type 40/40/20 for parts.').waitFor();
    expect(await form.getByLabel('Other ratios').getAttribute('aria-invalid')).toBe('true');
    await form.getByLabel('Other ratios').fill('2:1:1\n40/40/20');
    await form.getByRole('button', { name: 'Book it' }).click();
    await form.waitFor({ state: 'detached' });

    expect(puppet.submitted.at(-1)).toMatchObject({
      blend: { v: { selected_option: { value: 'Night Ferry' } } },
      ratios: { v: { value: '2:1:1\n40/40/20' } },
      who: { v: { selected_users: [expect.stringMatching(/^U/)] } },
      host: { v: { selected_user: expect.stringMatching(/^U/) } },
      where: { v: { selected_channel: expect.stringMatching(/^C/) } },
      how: { v: { selected_option: { value: 'Blind' } } },
      also: { v: { selected_options: [{ value: 'Purge' }] } },
      coffees: { v: { selected_options: [{ value: 'Chirinos' }, { value: 'Kayanza Hill' }] } },
      day: { v: { selected_date: '2026-11-27' } },
      time: { v: { selected_time: '14:05' } },
      dose: { v: { value: '11.5' } },
    });
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it('keeps a half-filled form over a reload', async () => {
    const { page } = await inChannel('sol');
    await say(page, '/spoon form');
    await page.getByLabel('Dose').fill('12');
    await page.waitForResponse((response) => response.url().endsWith('/local/type'));
    await page.reload();
    await expect.poll(() => page.getByLabel('Dose').inputValue()).toBe('12');
    await page.getByRole('button', { name: 'Leave it' }).click();
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    await page.context().close();
  });

  it('moves the clock on and keeps everything over a reload', async () => {
    const { page } = await inChannel('wren');
    await say(page, 'before the clock moves');
    const before = workspace.clock.now().getTime();
    await page.getByRole('button', { name: '+1 day' }).click();
    await expect.poll(() => workspace.clock.now().getTime() - before).toBeGreaterThanOrEqual(86_400_000);
    await page.getByRole('heading', { name: /^Yesterday/ }).waitFor();
    await page.reload();
    await slip(page, 'before the clock moves').waitFor();
    await page.context().close();
  });

  it('says kindly that the bot does not answer and gives the words back', async () => {
    const { page } = await inChannel('jun');
    await say(page, '/spoon sleep');
    await page
      .getByRole('alert')
      .getByText(/did not answer within three seconds/)
      .waitFor();
    expect(await page.getByRole('textbox', { name: /Write to/ }).inputValue()).toBe('/spoon sleep');
    await page.context().close();
  });

  it('shows the home tab', async () => {
    const { page, complaints } = await become('jun');
    await page.getByRole('link', { name: /home tab/ }).click();
    await page.getByRole('heading', { name: 'What is next' }).waitFor();
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it('gives every control at least 44 pixels and nothing wider than the screen', async () => {
    const { page } = await inChannel('ines');
    await say(page, '/spoon card');
    await slip(page, 'T1 · Harbour Lamp').last().waitFor();
    await say(page, '/spoon form');
    await page.getByRole('dialog').waitFor();
    const small = await page
      .locator(
        'button:visible, select:visible, summary:visible, .choice:visible, a.back:visible, input.line:visible',
      )
      .evaluateAll((controls) =>
        controls
          .map((control) => ({ name: control.textContent ?? '', box: control.getBoundingClientRect() }))
          .filter(({ box }) => box.height < 43.9 || box.width < 43.9)
          .map(({ name, box }) => `${name} ${box.width} × ${box.height}`),
      );
    expect(small).toEqual([]);
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(390);
    await page.getByRole('button', { name: 'Leave it' }).click();
    await page.context().close();
  });
});
