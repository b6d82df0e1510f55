import type { ConfirmationDialog } from '@slack/types';
import type { SubmitAnswer, TapAnswer } from '../../api-types.js';
import { post } from '../api.js';
import { offerOf } from '../fields.js';
import { fieldKey, getState, me, update, withEntry } from '../store.js';
import type { PageView, Picked, Place } from '../wire.js';
import { loadHome, loadMessages, loadViews } from './load.js';
import { botTrouble } from './trouble.js';

/** Where a field is: the place it stands in, its block and its own name. */
export interface FieldSpot {
  readonly place: Place;
  readonly blockId: string;
  readonly actionId: string;
}

export function keyOf({ place, blockId, actionId }: FieldSpot): string {
  return fieldKey(place.kind === 'view' ? place.id : place.ts, blockId, actionId);
}

const unsent = new Map<string, Record<string, Record<string, Picked>>>();
let timer: ReturnType<typeof setTimeout> | undefined;

/** Keeps what is being typed, here at once and in the workspace a moment later. */
export function keepTyped(spot: FieldSpot, picked: Picked): void {
  update({ typed: withEntry(getState().typed, keyOf(spot), picked) });
  if (spot.place.kind !== 'view') return;
  const values = unsent.get(spot.place.id) ?? {};
  unsent.set(spot.place.id, {
    ...values,
    [spot.blockId]: { ...values[spot.blockId], [spot.actionId]: picked },
  });
  clearTimeout(timer);
  timer = setTimeout(() => void flushTyped(), 250);
}

async function flushTyped(): Promise<void> {
  clearTimeout(timer);
  const person = me();
  const waiting = [...unsent];
  unsent.clear();
  if (person === null) return;
  await Promise.all(
    waiting.map(([id, values]) => post('/local/type', { as: person.id, view: { id }, values })),
  );
}

/** A tap on a button, or a pick that the bot wants to hear of; asks first where the bot asks for that. */
export function tap(spot: FieldSpot, action: TapDetail, confirm: ConfirmationDialog | undefined): void {
  if (confirm === undefined) void sendTap(spot, action);
  else update({ confirm: { ask: confirm, go: () => void sendTap(spot, action) } });
}

export interface TapDetail {
  readonly value?: string;
  readonly selected?: Picked;
}

async function sendTap(spot: FieldSpot, detail: TapDetail): Promise<void> {
  const person = me();
  const key = keyOf(spot);
  if (person === null || getState().busy.has(key)) return;
  update({ busy: new Set([...getState().busy, key]), trouble: null });
  await flushTyped();
  const answer = await post<TapAnswer>('/local/tap', {
    as: person.id,
    action: { actionId: spot.actionId, ...(spot.blockId === '' ? {} : { blockId: spot.blockId }), ...detail },
    ...placeOf(spot.place),
  });
  const busy = new Set(getState().busy);
  busy.delete(key);
  if (!answer.ok) update({ busy, trouble: answer.message });
  else update({ busy, trouble: answer.body.ok ? null : botTrouble(answer.body.error) });
  await reloadPlace(spot.place);
}

function placeOf(place: Place): object {
  return place.kind === 'view'
    ? { view: { id: place.id } }
    : { message: { channel: place.channel, ts: place.ts } };
}

async function reloadPlace(place: Place): Promise<void> {
  const { thread, place: where } = getState().route;
  await loadViews();
  if (where === 'home') await loadHome();
  if (place.kind !== 'message') return;
  await loadMessages(place.channel, null);
  if (thread !== null) await loadMessages(place.channel, thread);
}

/** Hands a form in; errors stay beside their fields. */
export async function submit(view: PageView): Promise<void> {
  const person = me();
  const key = fieldKey(view.id, '', 'submit');
  if (person === null || getState().busy.has(key)) return;
  update({ busy: new Set([...getState().busy, key]), trouble: null });
  await flushTyped();
  const answer = await post<SubmitAnswer>('/local/submit', { as: person.id, view: { id: view.id } });
  const busy = new Set(getState().busy);
  busy.delete(key);
  await loadViews();
  const errors = answer.ok ? (answer.body.errors ?? null) : null;
  const trouble = answer.ok
    ? answer.body.ok || errors !== null
      ? null
      : botTrouble(answer.body.error)
    : answer.message;
  const views = getState().views;
  update({ busy, trouble, views: { ...views, errors: errors ?? views.errors } });
}

export async function closeView(view: PageView): Promise<void> {
  const person = me();
  if (person === null) return;
  const answer = await post('/local/close', { as: person.id, view: { id: view.id } });
  if (!answer.ok) update({ trouble: answer.message });
  await loadViews();
}

/** Asks the bot what an external select offers for the words typed so far. */
export async function askOptions(spot: FieldSpot, query: string): Promise<void> {
  const person = me();
  if (person === null) return;
  const answer = await post<{ readonly options: readonly Parameters<typeof offerOf>[0][] }>(
    '/local/options',
    {
      as: person.id,
      action: { actionId: spot.actionId, ...(spot.blockId === '' ? {} : { blockId: spot.blockId }) },
      query,
      ...placeOf(spot.place),
    },
  );
  if (!answer.ok) return update({ trouble: answer.message });
  update({ offered: withEntry(getState().offered, keyOf(spot), answer.body.options.map(offerOf)) });
}
