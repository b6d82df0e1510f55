import type { ConfirmationDialog } from '@slack/types';
import type { SubmitAnswer, TapAnswer } from '../../api-types.js';
import { post } from '../api.js';
import { botTrouble, fieldKey, getState, me, update, withEntry } from '../store.js';
import type { PageView, Picked, Place } from '../wire.js';
import { act, loadHome, loadRoom, loadViews } from './load.js';

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
export function setTyped(spot: FieldSpot, picked: Picked): void {
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
  const waiting = [...unsent];
  unsent.clear();
  await Promise.all(
    waiting.map(([id, values]) => post('/local/type', { as: me()?.id, view: { id }, values })),
  );
}

/** Does one thing at a time under this key, everything typed being sent first. */
async function whileBusy(key: string, work: () => Promise<void>): Promise<void> {
  if (getState().busy.has(key)) return;
  update({ busy: new Set([...getState().busy, key]), trouble: null });
  await flushTyped();
  await work();
  update({ busy: new Set([...getState().busy].filter((one) => one !== key)) });
}

export interface TapDetail {
  readonly value?: string;
  readonly selected?: Picked;
}

/** A tap on a button, or a pick that the bot wants to hear of; asks first where the bot asks for that. */
export function tap(spot: FieldSpot, action: TapDetail, confirm: ConfirmationDialog | undefined): void {
  if (confirm === undefined) void sendTap(spot, action);
  else update({ confirm: { ask: confirm, go: () => void sendTap(spot, action) } });
}

async function sendTap(spot: FieldSpot, detail: TapDetail): Promise<void> {
  const { place, blockId, actionId } = spot;
  await whileBusy(keyOf(spot), async () => {
    const answer = await act<TapAnswer>('/local/tap', {
      action: { actionId, ...(blockId === '' ? {} : { blockId }), ...detail },
      ...(place.kind === 'view'
        ? { view: { id: place.id } }
        : { message: { channel: place.channel, ts: place.ts } }),
    });
    if (answer.ok) update({ trouble: answer.body.ok ? null : botTrouble(answer.body.error) });
  });
  await loadViews();
  if (getState().route.place === 'home') await loadHome();
  if (place.kind === 'message') await loadRoom(place.channel);
}

/** Hands a form in; errors stay beside their fields. */
export async function submit(view: PageView): Promise<void> {
  await whileBusy(fieldKey(view.id, '', 'submit'), async () => {
    const answer = await act<SubmitAnswer>('/local/submit', { view: { id: view.id } });
    await loadViews();
    if (!answer.ok) return;
    const { ok, errors, error } = answer.body;
    const { views } = getState();
    update({
      trouble: ok || errors !== undefined ? null : botTrouble(error),
      views: { ...views, errors: errors ?? views.errors },
    });
  });
}

export async function closeView(view: PageView): Promise<void> {
  await act('/local/close', { view: { id: view.id } });
  await loadViews();
}
