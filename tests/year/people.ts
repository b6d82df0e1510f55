import { enter, type Ledger } from './ledger.js';
import { buttonsOf, type Rng, type Town, wordsIn } from './town.js';

export const HOSTS = ['ines', 'noor', 'teo'] as const;
/** Only what stands lately is looked at: nobody scrolls back a year. */
const RECENT = 40;

export function pick<T>(rng: Rng, choices: readonly T[]): T {
  const chosen = choices[Math.floor(rng() * choices.length)];
  if (chosen === undefined) throw new Error('nothing to choose from');
  return chosen;
}

function normal(rng: Rng): number {
  return Math.sqrt(-2 * Math.log(1 - rng())) * Math.cos(2 * Math.PI * rng());
}

/** Bram reads his messages: he accepts most asks, offers another day, declines some and overlooks others. */
export async function roasterAnswers(town: Town, rng: Rng): Promise<void> {
  for (const message of (await town.direct('bram')).slice(-RECENT)) {
    const buttons = buttonsOf(message);
    const mood = rng();
    if (buttons.includes('ask.accept')) {
      if (mood < 0.62) await town.tap('bram', message, 'ask.accept');
      else if (mood < 0.74 && buttons.includes('ask.offer')) await offerAnotherDay(town, rng, message);
      else if (mood < 0.82 && buttons.includes('ask.decline')) {
        if (await town.tap('bram', message, 'ask.decline'))
          await town.submit('bram', { because: 'the drum is full' });
      }
    } else if (buttons.includes('ask.decline') && mood < 0.02) {
      if (await town.tap('bram', message, 'ask.decline')) await town.submit('bram', {});
    }
  }
}

async function offerAnotherDay(town: Town, rng: Rng, message: Parameters<Town['tap']>[1]): Promise<void> {
  if (!(await town.tap('bram', message, 'ask.offer'))) return;
  const days = [...(await town.formWords('bram')).matchAll(/"value":"(\d{4}-\d\d-\d\d)"/g)].map(
    (match) => match[1] ?? '',
  );
  if (days.length > 0) await town.submit('bram', { day: pick(rng, days) });
}

/** A host reads what is offered and what is missing, and taps one way out or leaves it. */
export async function hostAnswers(town: Town, rng: Rng, host: string): Promise<void> {
  for (const message of (await town.direct(host)).slice(-RECENT)) {
    const ways = buttonsOf(message).filter((action) =>
      /^ask\.(agree|withdraw|move|again|nearest|drop)/.test(action),
    );
    if (ways.length === 0 || rng() < 0.45) continue;
    await town.tap(host, message, pick(rng, ways));
  }
}

/** On the roast day Bram weighs what came out, says that it did not happen, or forgets to say anything. */
export async function roasterReports(town: Town, rng: Rng, today: string, ledger: Ledger): Promise<void> {
  const due = await town.db
    .selectFrom('ask')
    .innerJoin('coffee', 'coffee.id', 'ask.coffee_id')
    .select(['ask.id', 'ask.green_mg', 'coffee.name'])
    .where('ask.state', '=', 'accepted')
    .where('ask.roast_day', '=', today)
    .execute();
  for (const ask of due) {
    const mood = rng();
    const greenGrams = ask.green_mg / 1000;
    const roastedGrams = Math.round(greenGrams * (0.85 + 0.006 * normal(rng)) * 10) / 10;
    const message = (await town.direct('bram')).findLast(
      (one) =>
        buttonsOf(one).includes('ask.roasted') &&
        JSON.stringify(one.blocks).includes(`{\\"ask\\":${ask.id}}`),
    );
    if (!message) continue;
    if (mood < 0.1 && buttonsOf(message).includes('ask.missed'))
      await town.tap('bram', message, 'ask.missed');
    else if (mood < 0.88 && (await town.tap('bram', message, 'ask.roasted'))) {
      const out = { green: `${greenGrams} g`, roasted: `${roastedGrams} g` };
      await town.submit('bram', out);
      // An odd batch is asked about before it counts; what he weighed is so.
      if ((await town.formWords('bram')).includes('"block_id":"sure"'))
        await town.submit('bram', { ...out, sure: ['yes'] });
      enter(ledger.green, ask.name, ask.green_mg);
      enter(ledger.roasted, ask.name, Math.round(roastedGrams * 1000));
    }
  }
}

/** Coffees that are sold alone are roasted for sale, and some of it stands on the shelf. */
export async function fillShelf(town: Town, rng: Rng, ledger: Ledger): Promise<void> {
  for (const coffee of ['Kayanza Hill', 'Nubosa Natural']) {
    if (rng() < 0.35) continue;
    const said = await town.command('bram', `/spoon shelf "${coffee}" 510g roasted today from 600g green`);
    if (!said.includes('on the shelf')) throw new Error(`the shelf did not take it: ${said}`);
    enter(ledger.green, coffee, 600_000);
    enter(ledger.roasted, coffee, 510_000);
  }
}

/** Something that is on the shelf is taken off it: sold, dropped, drunk. */
export async function takeSome(town: Town, rng: Rng, ledger: Ledger): Promise<void> {
  const coffee = pick(rng, ['Kayanza Hill', 'Nubosa Natural']);
  const said = await town.command('teo', `/spoon shelf take "${coffee}" 50g`);
  const took = /[Tt]ook 50 g/.test(said);
  if (took) enter(ledger.used, coffee, 50_000);
}

/** What one person was told, by their messages as they stand now and by what they alone saw since. */
export async function toldTo(town: Town, person: string, since: Date): Promise<readonly string[]> {
  const standing = (await town.direct(person)).slice(-RECENT * 2).map(wordsIn);
  const whispered = (await town.messages(person)).filter(
    (message) => message.ephemeral && Number(message.ts) * 1000 >= since.getTime(),
  );
  return [...standing, ...whispered.map(wordsIn)];
}
