import { z } from 'zod';
import type { Context } from '../context.js';
import { wireView } from '../deliver/wire.js';
import { acceptedView, openModal, publishHome, pushModal, replaceView } from '../forms/open-views.js';
import { SlackError } from '../refusals.js';
import { findPerson } from '../state/people.js';
import { findHome, findView, openModals, type StoredView } from '../state/views.js';
import { type Method, method, OptionalText, type Reply } from './method.js';

const Triggered = z.looseObject({
  trigger_id: z.string('missing required field: trigger_id').min(1, 'missing required field: trigger_id'),
  view: z.unknown(),
});

/** Whoever set off the trigger; it is used up by this. */
function personOf(ctx: Context, trigger: string): string {
  const exchanged = ctx.triggers.exchange(trigger);
  if ('error' in exchanged) throw new SlackError(exchanged.error);
  return exchanged.person;
}

function shown(ctx: Context, view: StoredView): Reply {
  return { view: wireView(ctx.identity, view) };
}

function open(ctx: Context, args: z.output<typeof Triggered>): Reply {
  const definition = acceptedView(args.view, 'modal');
  return shown(ctx, openModal(ctx, personOf(ctx, args.trigger_id), definition));
}

function push(ctx: Context, args: z.output<typeof Triggered>): Reply {
  const definition = acceptedView(args.view, 'modal');
  const person = personOf(ctx, args.trigger_id);
  if (openModals(ctx.db, person).length === 0) throw new SlackError('not_found');
  return shown(ctx, pushModal(ctx, person, definition));
}

const Update = z.looseObject({ view_id: OptionalText, hash: OptionalText, view: z.unknown() });

function update(ctx: Context, args: z.output<typeof Update>): Reply {
  const definition = acceptedView(args.view, 'any');
  const before = findView(ctx.db, args.view_id ?? '');
  if (before === undefined) throw new SlackError('not_found');
  refuseStale(args.hash, before);
  return shown(ctx, replaceView(ctx, before, definition));
}

const Publish = z.looseObject({ user_id: z.string().min(1), hash: OptionalText, view: z.unknown() });

function publish(ctx: Context, args: z.output<typeof Publish>): Reply {
  const definition = acceptedView(args.view, 'home');
  const person = findPerson(ctx.db, args.user_id);
  if (person === undefined || person.isBot || person.deleted) throw new SlackError('user_not_found');
  const before = findHome(ctx.db, person.id);
  if (before !== undefined) refuseStale(args.hash, before);
  return shown(ctx, publishHome(ctx, person.id, definition));
}

function refuseStale(hash: string | undefined, before: StoredView): void {
  if (hash !== undefined && hash !== before.hash) throw new SlackError('hash_conflict');
}

/** Forms and the home tab. */
export const viewMethods: readonly Method[] = [
  method('views.open', [], Triggered, open),
  method('views.push', [], Triggered, push),
  method('views.update', [], Update, update),
  method('views.publish', [], Publish, publish),
];
