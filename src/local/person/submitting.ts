import { z } from 'zod';
import type { CloseRequest, SubmitAnswer, SubmitRequest, TypeRequest } from '../api-types.js';
import type { Context } from '../context.js';
import { interact, tapAnswer } from '../deliver/interactions.js';
import type { Outcome } from '../deliver/transport.js';
import { wireView } from '../deliver/wire.js';
import { fieldErrors } from '../forms/field-errors.js';
import { fieldsOf, withValues } from '../forms/fields.js';
import { acceptedView, closeViews, pushModal, replaceView, rewriteView } from '../forms/open-views.js';
import { objectsIn, parsedJson } from '../json.js';
import { RefusedAction, SlackError } from '../refusals.js';
import { findView, openModals, type StoredView } from '../state/views.js';
import { actingPerson, openView } from './acting.js';

const TROUBLE = 'We had some trouble connecting. Try again?';

/** Keeps what a person is typing into an open form. */
export function type(ctx: Context, request: z.infer<typeof TypeRequest>): object {
  const view = openView(ctx, actingPerson(ctx, request.as).id, request.view.id);
  rewriteView(ctx, filled(view, request.values));
  return {};
}

function filled(view: StoredView, values: z.infer<typeof TypeRequest>['values']): StoredView {
  const places = new Set(
    fieldsOf(objectsIn(view.definition['blocks'])).map((field) => `${field.blockId}\n${field.actionId}`),
  );
  for (const [blockId, actions] of Object.entries(values)) {
    for (const actionId of Object.keys(actions)) {
      if (places.has(`${blockId}\n${actionId}`)) continue;
      throw new RefusedAction(
        'element_not_found',
        `The form has no field ${actionId} in a block ${blockId}.`,
        404,
      );
    }
  }
  return { ...view, typed: withValues(view.typed, values) };
}

/** A person submits the form on top; what the bot answers decides what they see next. */
export async function submit(ctx: Context, request: z.infer<typeof SubmitRequest>): Promise<SubmitAnswer> {
  const person = actingPerson(ctx, request.as);
  const before = openView(ctx, person.id, request.view.id);
  if (openModals(ctx.db, person.id).at(-1)?.id !== before.id) {
    throw new RefusedAction('view_not_on_top', 'Only the form on top can be submitted.');
  }
  const view = { ...filled(before, request.values ?? {}), errors: null, notice: null };
  const errors = fieldErrors(objectsIn(view.definition['blocks']), view.typed);
  if (Object.keys(errors).length > 0) {
    rewriteView(ctx, { ...view, errors });
    return { ok: false, status: 0, errors, closed: false };
  }
  rewriteView(ctx, view);
  const outcome = await interact(ctx, 'view_submission', person, {
    view: wireView(ctx.identity, view),
    response_urls: [],
  });
  const { error } = tapAnswer(outcome);
  if (error !== undefined) return troubled(ctx, view, outcome, error);
  try {
    return applyAnswer(ctx, view, outcome);
  } catch (error) {
    if (!(error instanceof SlackError)) throw error;
    return troubled(ctx, view, outcome, error.code);
  }
}

const ResponseAction = z.discriminatedUnion('response_action', [
  z.looseObject({ response_action: z.literal('errors'), errors: z.record(z.string(), z.string()) }),
  z.looseObject({ response_action: z.literal('update'), view: z.unknown() }),
  z.looseObject({ response_action: z.literal('push'), view: z.unknown() }),
  z.looseObject({ response_action: z.literal('clear') }),
]);

/** Does what the bot answered. */
function applyAnswer(ctx: Context, view: StoredView, outcome: Outcome): SubmitAnswer {
  const { status } = outcome;
  if (outcome.body.trim() === '' || outcome.body.trim() === '{}') {
    closeViews(ctx, view.person, view);
    return { ok: true, status, closed: true };
  }
  const answer = parsedJson(outcome.body, ResponseAction);
  if (answer === undefined) throw new SlackError('invalid_response');
  // The bot may have changed the form through the Web API while it was thinking.
  const current = findView(ctx.db, view.id) ?? view;
  switch (answer.response_action) {
    case 'clear':
      closeViews(ctx, view.person, 'all');
      return { ok: true, status, closed: true };
    case 'update':
      replaceView(ctx, current, acceptedView(answer.view, 'modal'));
      return { ok: true, status, closed: false };
    case 'push':
      pushModal(ctx, view.person, acceptedView(answer.view, 'modal'));
      return { ok: true, status, closed: false };
    case 'errors': {
      refuseMisplaced(current, answer.errors);
      rewriteView(ctx, { ...current, errors: answer.errors });
      return { ok: false, status, errors: answer.errors, closed: false };
    }
  }
}

/** Slack shows an error only under an input block; any other key breaks the form. */
function refuseMisplaced(view: StoredView, errors: Readonly<Record<string, string>>): void {
  const inputs = new Set(
    objectsIn(view.definition['blocks'])
      .filter((block) => block['type'] === 'input')
      .map((block) => block['block_id']),
  );
  const keys = Object.keys(errors);
  if (keys.length === 0 || keys.some((key) => !inputs.has(key))) throw new SlackError('invalid_errors_block');
}

function troubled(ctx: Context, view: StoredView, outcome: Outcome, error: string): SubmitAnswer {
  const current = findView(ctx.db, view.id);
  if (current !== undefined) rewriteView(ctx, { ...current, notice: TROUBLE });
  return { ok: false, status: outcome.status, closed: false, error };
}

/** A person closes a form; the bot hears of it when it asked to. */
export function close(ctx: Context, request: z.infer<typeof CloseRequest>): object {
  const person = actingPerson(ctx, request.as);
  const view = openView(ctx, person.id, request.view.id);
  if (view.kind !== 'modal') throw new RefusedAction('not_a_modal', 'The home tab cannot be closed.');
  const all = view.definition['clear_on_close'] === true;
  closeViews(ctx, person.id, all ? 'all' : view);
  if (view.definition['notify_on_close'] === true) {
    void interact(ctx, 'view_closed', person, { view: wireView(ctx.identity, view), is_cleared: all });
  }
  return {};
}
