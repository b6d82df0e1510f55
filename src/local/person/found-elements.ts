import type { FormValues, JsonObject, TapRequest } from '../api-types.js';
import { allBlocks, elementsOf, objectsIn, textIn } from '../block-kit/walk.js';
import type { Context } from '../context.js';
import { RefusedAction } from '../refusals.js';
import type { StoredMessage } from '../state/messages.js';
import { findView, messageInput, type StoredView } from '../state/views.js';
import { readableChannel, seenMessage } from './acting.js';

/** Where a person taps: a message, or an open form or home tab; with what they picked there so far. */
export type Surface =
  | {
      readonly in: 'message';
      readonly message: StoredMessage;
      readonly blocks: readonly JsonObject[];
      readonly typed: FormValues;
    }
  | {
      readonly in: 'view';
      readonly view: StoredView;
      readonly blocks: readonly JsonObject[];
      readonly typed: FormValues;
    };

type Place = Pick<TapRequest, 'as' | 'message' | 'view'>;

/** The message or view a tap names, as this person has it before them. */
export function surfaceOf(ctx: Context, place: Place): Surface {
  if (place.view !== undefined) {
    const view = openView(ctx, place.as, place.view.id);
    return { in: 'view', view, blocks: objectsIn(view.definition['blocks']), typed: view.typed };
  }
  if (place.message === undefined) {
    throw new RefusedAction('no_place', 'Say where: {"message":{"channel":…,"ts":…}} or {"view":{"id":…}}.');
  }
  const channel = readableChannel(ctx, place.message.channel, place.as);
  const message = seenMessage(ctx, channel.id, place.message.ts, place.as);
  const typed = messageInput(ctx.db, place.as, channel.id, message.ts);
  return { in: 'message', message, blocks: message.blocks, typed };
}

/** A view that is open before this person, or their home tab. */
export function openView(ctx: Context, person: string, id: string): StoredView {
  const view = findView(ctx.db, id);
  if (view === undefined || view.person !== person) {
    throw new RefusedAction('view_not_found', `This person has no view ${id} open.`, 404);
  }
  return view;
}

/** The element that a tap names; one that is not there cannot be tapped. */
export function elementAt(
  surface: Surface,
  action: { readonly actionId: string; readonly blockId?: string | undefined },
): { readonly element: JsonObject; readonly block: JsonObject; readonly blockId: string } {
  for (const block of allBlocks(surface.blocks)) {
    const blockId = textIn(block['block_id']) ?? '';
    if (action.blockId !== undefined && action.blockId !== blockId) continue;
    const inside = block['type'] === 'input' && block['dispatch_action'] !== true ? [] : elementsOf(block);
    const element = inside.find((one) => one['action_id'] === action.actionId);
    if (element !== undefined) return { element, block, blockId };
  }
  throw new RefusedAction(
    'element_not_found',
    `Nothing to tap has the action id ${action.actionId} there.`,
    404,
  );
}
