import type { z } from 'zod';
import type { Channel, HomeOpenedRequest, OpenViews, View } from '../api-types.js';
import type { Context } from '../context.js';
import { sendEvent } from '../deliver/events.js';
import { wireView } from '../forms/wire-view.js';
import { directChannel } from '../state/channels.js';
import { findHome, openModals } from '../state/views.js';
import { actingPerson } from './acting.js';

/** The direct messages of a person and the bot, made when missing. */
export function directMessages(ctx: Context, as: string): { readonly channel: Channel } {
  const person = actingPerson(ctx, as);
  return { channel: ctx.db.transaction(() => directChannel(ctx.db, person.id, ctx.identity.botUserId))() };
}

/** A person opens the app: its home tab or its messages. */
export function openHome(ctx: Context, request: z.infer<typeof HomeOpenedRequest>): object {
  const person = actingPerson(ctx, request.as);
  const { channel } = directMessages(ctx, person.id);
  const home = findHome(ctx.db, person.id);
  ctx.db.transaction(() =>
    sendEvent(ctx, {
      type: 'app_home_opened',
      user: person.id,
      channel: channel.id,
      tab: request.tab,
      ...(request.tab === 'home' && home !== undefined ? { view: wireView(ctx.identity, home) } : {}),
      event_ts: ctx.newTs(),
    }),
  )();
  ctx.events.wake();
  return {};
}

export function homeTab(ctx: Context, as: string): { readonly view: View | null } {
  const home = findHome(ctx.db, actingPerson(ctx, as).id);
  return { view: home === undefined ? null : wireView(ctx.identity, home) };
}

/** The forms open before a person, and what is wrong with the top one. */
export function openForms(ctx: Context, as: string): OpenViews {
  const stack = openModals(ctx.db, actingPerson(ctx, as).id);
  const top = stack.at(-1);
  return {
    stack: stack.map((view) => wireView(ctx.identity, view)),
    errors: top?.errors ?? null,
    notice: top?.notice ?? null,
  };
}
