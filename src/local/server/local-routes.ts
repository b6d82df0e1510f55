import { setTimeout as sleep } from 'node:timers/promises';
import { z } from 'zod';
import * as api from '../api-types.js';
import type { Context } from '../context.js';
import { FaultsRequest } from '../faults.js';
import { actingPerson } from '../person/acting.js';
import { runCommand } from '../person/commands.js';
import { directMessages, homeTab, openForms, openHome, read, shownMessages } from '../person/looking.js';
import { edit, erase, react, say } from '../person/saying.js';
import { close, submit, type as typeInto } from '../person/submitting.js';
import { shortcut, tap } from '../person/tapping.js';
import { changeChannel, changePerson, makeChannel, makePerson } from '../person/workspace-changes.js';
import { RefusedAction } from '../refusals.js';
import { allChannels } from '../state/channels.js';
import { callsSince, deliveriesSince } from '../state/deliveries.js';
import { unreadOf } from '../state/messages.js';
import { allPeople } from '../state/people.js';

/** Answers a request whose input (a body or, for GET, a query) is still unchecked. */
type Answer = (ctx: Context, input: unknown, id: string) => unknown;

/** A route whose input is checked before anything happens; `:id` at the end of a path is a parameter. */
function route<T extends z.ZodType>(
  asked: `${'GET' | 'POST' | 'DELETE'} ${string}`,
  schema: T,
  answer: (ctx: Context, input: z.output<T>, id: string) => unknown,
): readonly [string, Answer] {
  const checkedAnswer: Answer = (ctx, input, id) => {
    const checked = schema.safeParse(input);
    if (checked.success) return answer(ctx, checked.data, id);
    const [issue] = checked.error.issues;
    const field = issue?.path.map(String).join('.') ?? '';
    const message = `${asked}: ${field === '' ? '' : `"${field}" `}${issue?.message ?? 'was not understood'}.`;
    throw new RefusedAction('bad_request', message);
  };
  return [asked, checkedAnswer];
}

const As = z.object({ as: z.string().min(1) });
const Nothing = z.unknown();
const Messages = As.extend({
  channel: z.string().min(1),
  thread: z.string().optional(),
  all: z.string().optional(),
});
const Since = z.object({ since: z.coerce.number().int().nonnegative().default(0) });

/** The JSON API by which people, and pages and tests for them, act in the workspace. */
export const localRoutes: ReadonlyMap<string, Answer> = new Map([
  route('GET /local/state', Nothing, workspaceState),
  route('GET /local/messages', Messages, shownMessages),
  route('GET /local/dm', As, (ctx, { as }) => directMessages(ctx, as)),
  route('GET /local/unread', As, (ctx, { as }) => ({ channels: unreadOf(ctx.db, actingPerson(ctx, as).id) })),
  route('POST /local/read', api.MessageRequest, read),
  route('GET /local/views', As, (ctx, { as }) => openForms(ctx, as)),
  route('GET /local/home', As, (ctx, { as }) => homeTab(ctx, as)),
  route('POST /local/home-opened', api.HomeOpenedRequest, openHome),
  route('POST /local/say', api.SayRequest, say),
  route('POST /local/edit', api.EditRequest, edit),
  route('POST /local/delete', api.MessageRequest, erase),
  route('POST /local/react', api.ReactRequest, react),
  route('POST /local/command', api.CommandRequest, runCommand),
  route('POST /local/tap', api.TapRequest, tap),
  route('POST /local/type', api.TypeRequest, typeInto),
  route('POST /local/submit', api.SubmitRequest, submit),
  route('POST /local/close', api.CloseRequest, close),
  route('POST /local/shortcut', api.ShortcutRequest, shortcut),
  route('GET /local/clock', Nothing, clockAnswer),
  route('POST /local/clock', api.ClockRequest, moveClock),
  route('POST /local/channels', api.NewChannelRequest, makeChannel),
  route('POST /local/channels/:id', api.ChangeChannelRequest, changeChannel),
  route('POST /local/people', api.NewPersonRequest, makePerson),
  route('POST /local/people/:id', api.ChangePersonRequest, changePerson),
  route('POST /local/settled', api.SettledRequest, settled),
  route('GET /local/deliveries', Since, (ctx, { since }) => ({ deliveries: deliveriesSince(ctx.db, since) })),
  route('GET /local/calls', Since, (ctx, { since }) => ({ calls: callsSince(ctx.db, since) })),
  route('GET /local/faults', Nothing, (ctx) => ({ rules: ctx.faults.list() })),
  route('POST /local/faults', FaultsRequest, (ctx, request) => {
    ctx.faults.arm(request);
    return { rules: ctx.faults.list() };
  }),
  route('DELETE /local/faults', Nothing, (ctx) => {
    ctx.faults.clear();
    return { rules: [] };
  }),
  route('POST /local/reset', z.strictObject({}), (ctx) => {
    ctx.startOver();
    for (const kind of ['people', 'channels', 'views', 'home', 'message'] as const)
      ctx.changes.publish({ kind });
    return workspaceState(ctx);
  }),
]);

function workspaceState(ctx: Context): api.WorkspaceState {
  const { teamId, teamName, domain, botUserId, botName } = ctx.identity;
  return {
    now: ctx.clock.now().toISOString(),
    workspace: { id: teamId, name: teamName, domain },
    bot: { userId: botUserId, name: botName, online: ctx.postman.online() },
    people: [...allPeople(ctx.db)],
    channels: [...allChannels(ctx.db)],
  };
}

function clockAnswer(ctx: Context): z.infer<typeof api.ClockAnswer> {
  return { now: ctx.clock.now().toISOString(), offsetMs: ctx.clock.offsetMs() };
}

/** Message times sort as text only while their seconds have ten digits. */
const LATEST = Date.UTC(2200, 0);

function moveClock(ctx: Context, request: z.infer<typeof api.ClockRequest>): z.infer<typeof api.ClockAnswer> {
  const now = ctx.clock.now().getTime();
  const to =
    'to' in request ? new Date(request.to) : new Date(now + ('advance' in request ? request.advance : 0));
  if (to.getTime() > LATEST) throw new RefusedAction('clock_too_far', 'The clock stops at the year 2200.');
  if (!ctx.clock.moveTo(to)) {
    throw new RefusedAction(
      'clock_goes_forward',
      `It is ${ctx.clock.now().toISOString()}; the clock only moves on.`,
    );
  }
  ctx.changes.publish({ kind: 'clock' });
  ctx.events.wake();
  return clockAnswer(ctx);
}

const SETTLE_MS = 10_000;
const QUIET_MS = 50;

/** Waits until the bot has been told everything and has made no call for a while. */
async function settled(
  ctx: Context,
  request: z.infer<typeof api.SettledRequest>,
): Promise<z.infer<typeof api.SettledAnswer>> {
  const until = performance.now() + (request.timeoutMs ?? SETTLE_MS);
  const quiet = request.quietMs ?? QUIET_MS;
  while (performance.now() < until) {
    if (!ctx.events.busy() && ctx.activity.running() === 0 && ctx.activity.quietFor() >= quiet)
      return { settled: true };
    await sleep(10);
  }
  return { settled: false };
}
