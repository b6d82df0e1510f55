import { seedScenario } from '../../../src/app/seed.js';
import { bookTasting } from '../../../src/commands/booking/book-tasting.js';
import { ask } from '../../../src/commands/roasting/ask.js';
import { noticesOfAsk } from '../../../src/commands/roasting/ask-notices.js';
import type { Notice } from '../../../src/kit/notice.js';
import { insertCoffee, listCoffees } from '../../../src/store/coffees.js';
import { listRecipes } from '../../../src/store/recipes.js';
import { insertLot } from '../../../src/store/shelf.js';
import { openDatabase } from '../../../src/store/sqlite/open.js';
import { depsAt } from '../common/deps-at.js';

export const WORKSPACE = 'T1';
export const INES = 'U0INES';
export const BRAM = 'U0BRAM';
export const NOOR = 'U0NOOR';
const PEOPLE = new Map([
  ['ines', INES],
  ['bram', BRAM],
  ['noor', NOOR],
]);

/** The demo roastery in memory, at an instant, with ways to book and to look at the asks. */
export async function house(at: string) {
  const open = await openDatabase(':memory:');
  let now = at;
  const deps = () => depsAt(open.db, now);
  await seedScenario(deps(), WORKSPACE, PEOPLE, 'C1');
  const coffees = await listCoffees(open.db, WORKSPACE);
  const coffee = (name: string) => {
    const found = coffees.find((one) => one.name === name);
    if (!found) throw new Error(`no coffee ${name}`);
    return found;
  };
  return {
    db: open.db,
    deps,
    coffee,
    close: () => open.close(),
    setTime: (instant: string) => {
      now = instant;
    },
    async book(start: string, by: string = INES, ratios: readonly (readonly number[])[] = [], tables = 1) {
      const [recipe] = await listRecipes(open.db, WORKSPACE);
      if (!recipe) throw new Error('no recipe');
      return bookTasting(
        deps(),
        { workspace: WORKSPACE, person: by },
        {
          recipe,
          at: new Date(start),
          ratios,
          channel: 'C1',
          people: ['U0TEO', 'U0MIKA', 'U0SOL'],
          blind: false,
          format: 'cupping',
          tables,
          brief: null,
        },
      );
    },
    async asks() {
      const rows = await open.db.selectFrom('ask').selectAll().orderBy('id').execute();
      return rows;
    },
    /** What planning decides, and how often an ask was changed: equal snapshots mean nothing was written. */
    async snapshot() {
      const asks = await open.db.selectFrom('ask').selectAll().orderBy('id').execute();
      const held = await open.db
        .selectFrom('reservation')
        .select(['tasting_id', 'lot_id', 'mg'])
        .orderBy('tasting_id')
        .orderBy('lot_id')
        .execute();
      const changes = (await open.db.selectFrom('ask_change').select('id').execute()).length;
      return { asks, held, changes };
    },
    async addCoffee(name: string, role: 'base' | 'sweetness' | 'highlight') {
      const like = coffee('Chirinos');
      return insertCoffee(open.db, {
        ...like,
        ...{ name, role, soldAlone: true, workspace: WORKSPACE, who: INES, at: new Date(now) },
      });
    },
    async putOnShelf(coffeeId: number, mg: number, roastedOn: string) {
      const lot = { workspace: WORKSPACE, coffeeId, mg, roastedOn, bestBy: null, roastId: null };
      return insertLot(open.db, { ...lot, who: INES, at: new Date(now) });
    },
    async tap(action: string, value: unknown, person: string, workspace = WORKSPACE) {
      const door = ask.taps[action];
      if (!door) throw new Error(`no tap ${action}`);
      return door.run(deps(), {
        who: { workspace, person },
        action,
        value: JSON.stringify(value),
        ...{ selected: [], channel: 'D1', messageTs: null, threadTs: null, form: null },
      });
    },
    async accept(id: number) {
      return this.tap('ask.accept', { ask: id }, BRAM);
    },
    async submit(callback: string, state: unknown, values: Readonly<Record<string, string>>, person: string) {
      const door = ask.forms[callback];
      if (!door) throw new Error(`no form ${callback}`);
      const form = {
        ...{ id: 'V1', callback, privateMetadata: JSON.stringify(state) },
        values: new Map(Object.entries(values)),
      };
      return door.run(deps(), { who: { workspace: WORKSPACE, person }, form });
    },
    async type(words: string, person: string) {
      const who = { workspace: WORKSPACE, person };
      if (!ask.verb) throw new Error('no verb');
      return ask.verb.run(deps(), { who, channel: 'C1', threadTs: null, words, by: 'slash' });
    },
    notices: (subject: string) => noticesOfAsk(deps(), WORKSPACE, subject),
  };
}

export type House = Awaited<ReturnType<typeof house>>;

/** A message notice's whole text, buttons in brackets, as one would read it. */
export function read(notice: Notice | undefined): string {
  if (notice?.kind !== 'message' || notice.message === null) return '';
  return notice.message.blocks
    .flatMap((block) => {
      if (block.type === 'section') return block.text?.text ?? [];
      if (block.type === 'context') return block.elements.map((one) => ('text' in one ? one.text : ''));
      if (block.type === 'actions')
        return block.elements.map((one) => (one.type === 'button' ? `[${one.text.text}]` : ''));
      return [];
    })
    .join('\n');
}
