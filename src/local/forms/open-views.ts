import type { JsonObject } from '../api-types.js';
import { checkView } from '../block-kit/check-view.js';
import { limits } from '../block-kit/limits.js';
import { wording } from '../block-kit/problems.js';
import { completedBlocks } from '../block-kit/walk.js';
import type { Context } from '../context.js';
import { objectIn, objectsIn } from '../json.js';
import { newId } from '../random.js';
import { SlackError } from '../refusals.js';
import { deleteModals, deleteView, findHome, openModals, type StoredView, saveView } from '../state/views.js';
import { keptValues } from './fields.js';

/** A view that passes Slack's checks, with the ids that Slack makes up filled in. */
export function acceptedView(given: unknown, kind: 'modal' | 'home' | 'any'): JsonObject {
  const problems = checkView(given);
  const [first] = problems;
  if (first !== undefined) {
    throw new SlackError(first.error, { response_metadata: { messages: problems.map(wording) } });
  }
  const view = objectIn(given) ?? {};
  if (kind !== 'any' && view['type'] !== kind) {
    const messages = [`[ERROR] must be a view of type ${kind} [json-pointer:/view/type]`];
    throw new SlackError('invalid_arguments', { response_metadata: { messages } });
  }
  return { ...view, blocks: completedBlocks(objectsIn(view['blocks'])) };
}

/** Opens a form on an empty screen: what was open before goes. */
export function openModal(ctx: Context, person: string, definition: JsonObject): StoredView {
  return changeViews(ctx, person, () => {
    deleteModals(ctx.db, person);
    return saveView(ctx.db, newView(ctx, person, 'modal', definition));
  });
}

/** Puts a form on top of the open one; Slack stacks three at most. */
export function pushModal(ctx: Context, person: string, definition: JsonObject): StoredView {
  return changeViews(ctx, person, () => {
    const stack = openModals(ctx.db, person);
    const top = stack.at(-1);
    if (top === undefined) throw new SlackError('not_found');
    if (stack.length >= limits.viewStack) throw new SlackError('push_limit_reached');
    const view = newView(ctx, person, 'modal', definition);
    return saveView(ctx.db, {
      ...view,
      position: top.position + 1,
      rootId: top.rootId,
      previousId: top.id,
    });
  });
}

/** Publishes a home tab, in place of the one before. */
export function publishHome(ctx: Context, person: string, definition: JsonObject): StoredView {
  const before = findHome(ctx.db, person);
  if (before !== undefined) return replaceView(ctx, before, definition);
  const view = changeViews(ctx, person, () => saveView(ctx.db, newView(ctx, person, 'home', definition)));
  ctx.changes.publish({ kind: 'home', as: person });
  return view;
}

/** Changes an open form or home tab, keeping what was typed where the ids stay the same. */
export function replaceView(ctx: Context, before: StoredView, definition: JsonObject): StoredView {
  const after = rewriteView(ctx, {
    ...before,
    definition,
    hash: newHash(ctx),
    typed: keptValues(objectsIn(definition['blocks']), before.typed),
    errors: null,
    notice: null,
  });
  if (before.kind === 'home') ctx.changes.publish({ kind: 'home', as: before.person });
  return after;
}

/** Takes one form away, or all of a person's. */
export function closeViews(ctx: Context, person: string, which: StoredView | 'all'): void {
  changeViews(ctx, person, () => {
    if (which === 'all') deleteModals(ctx.db, person);
    else deleteView(ctx.db, which.id);
  });
}

/** Keeps what was typed, or what is wrong with it. */
export function rewriteView(ctx: Context, view: StoredView): StoredView {
  return changeViews(ctx, view.person, () => saveView(ctx.db, view));
}

function changeViews<T>(ctx: Context, person: string, change: () => T): T {
  const result = ctx.db.transaction(change)();
  ctx.changes.publish({ kind: 'views', as: person });
  return result;
}

function newView(ctx: Context, person: string, kind: 'modal' | 'home', definition: JsonObject): StoredView {
  const id = newId('V');
  return {
    id,
    person,
    kind,
    position: 0,
    rootId: id,
    previousId: null,
    hash: newHash(ctx),
    definition,
    typed: {},
    errors: null,
    notice: null,
  };
}

function newHash(ctx: Context): string {
  return `${Math.floor(ctx.clock.now().getTime() / 1_000)}.${newId('').toLowerCase()}`;
}
