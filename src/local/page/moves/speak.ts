import type { CommandAnswer } from '../../api-types.js';
import { post } from '../api.js';
import { botTrouble, getState, me, placeKey, update, withEntry } from '../store.js';
import type { PageMessage } from '../wire.js';
import { act, loadMessages, loadRoom, loadViews } from './load.js';

const DRAFTS = 'drafts';

function setDraft(key: string, text: string): void {
  update({ drafts: withEntry(getState().drafts, key, text) });
  sessionStorage.setItem(DRAFTS, JSON.stringify([...getState().drafts].filter(([, words]) => words !== '')));
}

/** Half-written messages outlive a reload of the tab. */
export function recallDrafts(): void {
  const kept: readonly (readonly [string, string])[] = JSON.parse(sessionStorage.getItem(DRAFTS) ?? '[]');
  update({ drafts: new Map(kept) });
}

export function draft(channel: string, thread: string | null, text: string): void {
  setDraft(placeKey(channel, thread), text);
}

interface Extras {
  readonly broadcast: boolean;
  readonly files: readonly File[];
}

/** Sends what is in the composer: a command when it begins with a slash, else a message. */
export async function send(channel: string, thread: string | null, extras: Extras): Promise<void> {
  const key = placeKey(channel, thread);
  const text = (getState().drafts.get(key) ?? '').trim();
  const files = await Promise.all(extras.files.map(attached));
  if (text === '' && files.length === 0) return;
  setDraft(key, '');
  update({ trouble: null });
  const where = { as: me()?.id, channel, text, ...(thread === null ? {} : { thread }) };
  const trouble = text.startsWith('/')
    ? await command(where)
    : await say({
        ...where,
        ...(extras.broadcast && thread !== null ? { broadcast: true } : {}),
        ...(files.length === 0 ? {} : { files }),
      });
  if (trouble !== null) {
    // Nothing typed is lost: it comes back unless the person has begun something new.
    if (!getState().drafts.get(key)) setDraft(key, text);
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

async function say(request: object): Promise<string | null> {
  const answer = await post('/local/say', request);
  return answer.ok ? null : answer.message;
}

const NO_COMMANDS_HERE =
  'Slash commands do not work inside a thread. Write “@Tallyspoon tally” here instead, or type the command in the channel.';

async function command(request: object): Promise<string | null> {
  const answer = await post<CommandAnswer>('/local/command', request);
  if (!answer.ok) return answer.message;
  if (answer.body.error === 'commands_not_in_threads') return NO_COMMANDS_HERE;
  return answer.body.ok ? null : botTrouble(answer.body.error);
}

/** Does something to a message, and shows what became of it; true when it was done. */
async function change(path: string, message: PageMessage, more: object = {}): Promise<boolean> {
  const answer = await act(path, { channel: message.channel, ts: message.ts, ...more });
  await loadRoom(message.channel);
  return answer.ok;
}

export async function saveEdit(message: PageMessage, text: string): Promise<void> {
  if (text.trim() === '')
    return update({ trouble: 'An edited message needs some words; to take it back, delete it.' });
  update({ trouble: null });
  if (await change('/local/edit', message, { text: text.trim() })) update({ editing: null });
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
      go: () => void change('/local/delete', message),
    },
  });
}

/** Adds the person's reaction, or takes it off again. */
export async function toggleReaction(message: PageMessage, name: string): Promise<void> {
  const mine = message.reactions.some(
    (reaction) => reaction.name === name && reaction.users.includes(me()?.id ?? ''),
  );
  update({ menu: null });
  await change('/local/react', message, { name, ...(mine ? { remove: true } : {}) });
}
