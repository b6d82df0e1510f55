import type { Message } from '../../src/local/api-types.js';
import type { personClient } from '../../src/local/person-client.js';

type Client = ReturnType<typeof personClient>;
type Setting = { readonly id: string; readonly channel: string; settle(): Promise<void> };
type Values = Readonly<Record<string, string | readonly string[] | null>>;

export type StoryPerson = ReturnType<typeof storyPerson>;

/**
 * One person of a story: what they type, tap and see. Everything they do waits until the house has come to
 * rest; `channel` is #tasting-table where nothing else is said.
 */
export function storyPerson(client: Client, { id, channel: home, settle }: Setting) {
  const rested = async <T>(work: Promise<T>): Promise<T> => {
    const result = await work;
    await settle();
    return result;
  };
  return {
    id,
    /** `/spoon …`; the answer is the message only this person sees. */
    command: (text: string, channel = home) => rested(client.command({ as: id, channel, text })),
    say: (text: string, thread?: string, channel = home) =>
      rested(client.say({ as: id, channel, text, ...(thread === undefined ? {} : { thread }) })),
    edit: (ts: string, text: string, channel = home) =>
      rested(client.post('edit', { as: id, channel, ts, text })),
    remove: (ts: string, channel = home) => rested(client.post('delete', { as: id, channel, ts })),
    /** Taps a button or select of a message by its action id (what stands before `#` is enough). */
    tap: async (message: Message, action: string, selected?: string | readonly string[]) => {
      const actionId = findAction(message.blocks, action);
      return rested(
        client.tap({
          as: id,
          message: { channel: message.channel, ts: message.ts },
          action: { actionId, ...(selected === undefined ? {} : { selected }) },
        }),
      );
    },
    /** Taps something in the form that is on top. */
    tapForm: async (action: string, selected?: string | readonly string[]) => {
      const view = await topView();
      const actionId = findAction(view.blocks, action);
      return rested(
        client.tap({
          as: id,
          view: { id: view.id },
          action: { actionId, ...(selected === undefined ? {} : { selected }) },
        }),
      );
    },
    /** Submits the form on top, with values by block id. */
    submit: async (values: Values = {}) => {
      const view = await topView();
      const named = Object.fromEntries(
        Object.entries(values).map(([block, value]) => [block, { input: value }]),
      );
      return rested(client.submit({ as: id, view: { id: view.id }, values: named }));
    },
    form: topView,
    forms: async () => (await client.views(id)).stack,
    messages: (channel = home) => client.messages(id, channel),
    thread: (ts: string, channel = home) => client.messages(id, channel, ts),
    direct: async () => client.messages(id, (await client.dm(id)).id),
    /** The channel of their direct messages with the bot. */
    dm: async () => (await client.dm(id)).id,
    home: () => client.home(id),
    openHome: () => rested(client.post('home-opened', { as: id, tab: 'home' })),
  };

  async function topView() {
    const { stack } = await client.views(id);
    const view = stack.at(-1);
    if (!view) throw new Error('no form is open');
    return view;
  }
}

/** The full action id of a button or select, found in the blocks by its beginning. */
function findAction(blocks: unknown, action: string): string {
  const found = [...JSON.stringify(blocks).matchAll(/"action_id":"([^"]+)"/g)].map((match) => match[1] ?? '');
  const id = found.find((one) => one === action || one.startsWith(`${action}#`));
  if (id === undefined) throw new Error(`nothing to tap called ${action}; there is ${found.join(', ')}`);
  return id;
}
