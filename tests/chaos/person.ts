import type { Message } from '../../src/local/api-types.js';
import type { Told } from './insist.js';
import type { World } from './world.js';

/** The one message a person sees that begins so. */
export async function cardOf(world: World, name: string, beginning: string): Promise<Message> {
  return firstOf(await world.client.messages(world.id(name), world.channel), beginning);
}

/** The latest direct message of the bot to a person that begins so. */
export async function directOf(world: World, name: string, beginning: string): Promise<Message> {
  const { id } = await world.client.dm(world.id(name));
  return firstOf([...(await world.client.messages(world.id(name), id))].reverse(), beginning);
}

function firstOf(messages: readonly Message[], beginning: string): Message {
  const found = messages.find(({ text }) => text.startsWith(beginning));
  if (!found) throw new Error(`there is no message “${beginning}…” yet`);
  return found;
}

export function command(world: World, name: string, text: string): Promise<Told> {
  return world.client.command({ as: world.id(name), channel: world.channel, text });
}

export function tap(world: World, name: string, message: Message, action: string): Promise<Told> {
  return world.client.tap({
    as: world.id(name),
    message: { channel: message.channel, ts: message.ts },
    action: { actionId: actionIn(message, action) },
  });
}

/** Fills in the form that is on top and submits it; values are named by block. */
export async function submit(
  world: World,
  name: string,
  values: Readonly<Record<string, string>>,
): Promise<Told> {
  const { stack } = await world.client.views(world.id(name));
  const view = stack.at(-1);
  if (!view) throw new Error('no form has opened');
  const named = Object.fromEntries(Object.entries(values).map(([block, input]) => [block, { input }]));
  const told = await world.client.submit({ as: world.id(name), view: { id: view.id }, values: named });
  return told.errors ? { ok: false, answered: true, error: JSON.stringify(told.errors) } : told;
}

/** The full action id of a button, found by what stands before its `#`. */
function actionIn(message: Message, action: string): string {
  const ids = [...JSON.stringify(message.blocks).matchAll(/"action_id":"([^"]+)"/g)].map(
    ([, id]) => id ?? '',
  );
  const found = ids.find((id) => id === action || id.startsWith(`${action}#`));
  if (found === undefined) throw new Error(`there is nothing to tap called ${action} yet`);
  return found;
}
