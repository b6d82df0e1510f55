import type { CommandAnswer } from '../../api-types.js';
import { type Answer, post } from '../api.js';
import { getState, me, placeKey, update, withEntry } from '../store.js';
import type { PageMessage } from '../wire.js';
import { loadMessages, loadViews } from './load.js';
import { botTrouble } from './trouble.js';

function keepDraft(key: string, text: string): void {
  update({ drafts: withEntry(getState().drafts, key, text) });
  sessionStorage.setItem(DRAFTS, JSON.stringify([...getState().drafts].filter(([, words]) => words !== '')));
}

const DRAFTS = 'drafts';

/** Half-written messages outlive a reload of the tab. */
export function recallDrafts(): void {
  const kept: readonly (readonly [string, string])[] = JSON.parse(sessionStorage.getItem(DRAFTS) ?? '[]');
  update({ drafts: new Map(kept) });
}

export function draft(channel: string, thread: string | null, text: string): void {
  keepDraft(placeKey(channel, thread), text);
}

interface Extras {
  readonly broadcast: boolean;
  readonly files: readonly File[];
}

/** Sends what is in the composer: a command when it begins with a slash, else a message. */
export async function send(channel: string, thread: string | null, extras: Extras): Promise<void> {
  const person = me();
  const key = placeKey(channel, thread);
  const text = (getState().drafts.get(key) ?? '').trim();
  const files = await Promise.all(extras.files.map(attached));
  if (person === null || (text === '' && files.length === 0)) return;
  keepDraft(key, '');
  update({ trouble: null });
  const where = { as: person.id, channel, text, ...(thread === null ? {} : { thread }) };
  const trouble = text.startsWith('/')
    ? commandTrouble(await post<CommandAnswer>('/local/command', where))
    : sayTrouble(
        await post('/local/say', {
          ...where,
          ...(extras.broadcast && thread !== null ? { broadcast: true } : {}),
          ...(files.length === 0 ? {} : { files }),
        }),
      );
  if (trouble !== null) {
    // Nothing typed is lost: it comes back unless the person has begun something new.
    if (!getState().drafts.get(key)) keepDraft(key, text);
    update({ trouble, attached: withEntry(getState().attached, key, extras.files) });
  }
  await Promise.all([loadMessages(channel, thread), loadViews()]);
}

async function attached(file: File): Promise<{ readonly name: string; readonly base64: string }> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  let binary = '';
  for (const byte of bytes) binary += String.fromCharCode(byte);
  return { name: file.name, base64: btoa(binary) };
}

function sayTrouble(answer: Answer<unknown>): string | null {
  return answer.ok ? null : answer.message;
}

const NO_COMMANDS_HERE =
  'Slash commands do not work inside a thread. Write “@Tallyspoon tally” here instead, or type the command in the channel.';

function commandTrouble(answer: Answer<CommandAnswer>): string | null {
  if (!answer.ok) return answer.code === 'commands_not_in_threads' ? NO_COMMANDS_HERE : answer.message;
  if (answer.body.error === 'commands_not_in_threads') return NO_COMMANDS_HERE;
  return answer.body.ok ? null : botTrouble(answer.body.error);
}

export function startEditing(message: PageMessage): void {
  update({ editing: message.ts, menu: null });
}

export async function saveEdit(message: PageMessage, text: string): Promise<void> {
  const person = me();
  if (person === null) return;
  if (text.trim() === '')
    return update({ trouble: 'An edited message needs some words; to take it back, delete it.' });
  const place = { as: person.id, channel: message.channel, ts: message.ts };
  const answer = await post('/local/edit', { ...place, text: text.trim() });
  update(answer.ok ? { editing: null, trouble: null } : { trouble: answer.message });
  await reloadAround(message);
}

/** Asks first, then takes back one's own message. */
export function askDelete(message: PageMessage): void {
  update({
    menu: null,
    confirm: {
      ask: {
        title: { type: 'plain_text', text: 'Delete this message?' },
        text: { type: 'plain_text', text: 'It disappears for everybody. A tasting note in it is withdrawn.' },
        confirm: { type: 'plain_text', text: 'Delete' },
        deny: { type: 'plain_text', text: 'Keep it' },
        style: 'danger',
      },
      go: () => void remove(message),
    },
  });
}

async function remove(message: PageMessage): Promise<void> {
  const person = me();
  if (person === null) return;
  const answer = await post('/local/delete', { as: person.id, channel: message.channel, ts: message.ts });
  if (!answer.ok) update({ trouble: answer.message });
  await reloadAround(message);
}

/** Adds the person's reaction, or takes it off again. */
export async function toggleReaction(message: PageMessage, name: string): Promise<void> {
  const person = me();
  if (person === null) return;
  const mine = message.reactions.some(
    (reaction) => reaction.name === name && reaction.users.includes(person.id),
  );
  update({ menu: null });
  const answer = await post('/local/react', {
    as: person.id,
    channel: message.channel,
    ts: message.ts,
    name,
    ...(mine ? { remove: true } : {}),
  });
  if (!answer.ok) update({ trouble: answer.message });
  await reloadAround(message);
}

async function reloadAround(message: PageMessage): Promise<void> {
  const { thread } = getState().route;
  await loadMessages(message.channel, null);
  if (thread !== null) await loadMessages(message.channel, thread);
}
