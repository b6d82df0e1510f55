import { setTimeout as pause } from 'node:timers/promises';
import type { App } from '@slack/bolt';
import { z } from 'zod';
import type { Answer, SubmitAnswer } from '../../commands/common/bot.js';
import { readValue, type Tap, type Typed } from '../../commands/common/intake.js';
import { UserError } from '../../runtime/errors.js';
import { showAnswer, TYPED_AGAIN, WITHOUT_TRIGGER } from '../out/answers.js';
import { attempt, type Fault, plainSentence } from '../out/error-messages.js';
import { type Runtime, track } from '../runtime.js';
import {
  CommandPayload,
  FormPayload,
  readCommand,
  readForm,
  readTap,
  TapPayload,
  type ViewPayload,
} from './payloads.js';

/* Commands, taps and submitted forms: what somebody does and waits to see answered. */

/** `/spoon …`: the one slash command. Its message is the acknowledgement itself; forms open right after it. */
export function listenForCommands(app: App, runtime: Runtime): void {
  app.command('/spoon', async ({ body, ack }) => {
    runtime.counters.received.inc({ kind: 'command' });
    const command = CommandPayload.safeParse(body).data;
    if (command?.team_id !== runtime.me.workspace)
      return ack({ text: 'That command came in a shape I cannot read. Please type it again.' });
    const place = {
      person: command.user_id,
      channel: command.channel_id,
      threadTs: null,
      trigger: command.trigger_id,
      responseUrl: command.response_url ?? null,
      form: null,
    };
    const work = runTyped(runtime, readCommand(command));
    const answer = await inTime(work);
    if (answer === null) {
      track(
        runtime,
        work.then((late) => showAnswer(runtime, place, late)),
      );
      return ack({ text: 'Still working on it. The answer comes in a moment.' });
    }
    const { message, ...forms } = answer;
    if (forms.form || forms.pushForm) track(runtime, showAnswer(runtime, place, forms));
    await (message
      ? ack({ response_type: 'ephemeral', text: message.text, blocks: [...message.blocks] })
      : ack());
  });
}

/** Runs what was typed; a refusal or a fault becomes the message to show. */
function runTyped(runtime: Runtime, typed: Typed): Promise<Answer> {
  return attempt(runtime, 'command', () => runtime.bot.typed(runtime.deps, typed));
}

/**
 * Buttons and selects. Slack hears that a tap arrived once what it changed is committed, however long that takes:
 * it does not send taps again, so one that was acknowledged and then lost would never be made up for.
 */
export function listenForTaps(app: App, runtime: Runtime): void {
  app.action(/.*/, async ({ body, ack }) => {
    runtime.counters.received.inc({ kind: 'tap' });
    const payload = TapPayload.safeParse(body).data;
    if (payload?.team.id !== runtime.me.workspace) {
      runtime.deps.log.warn('a tap came in a shape that cannot be read');
      return ack();
    }
    const tap = readTap(payload);
    const from = formPlace(runtime, tap.form === null ? null : payload.view);
    const place = {
      person: tap.who.person,
      channel: tap.channel ?? from.channel,
      threadTs: tap.threadTs ?? from.threadTs,
      trigger: payload.trigger_id ?? null,
      responseUrl: payload.response_url ?? null,
      form: tap.form,
    };
    const { bot, deps } = runtime;
    const work = attempt(runtime, 'tap', () =>
      tap.action === TYPED_AGAIN ? typeAgain(runtime, tap) : bot.tapped(deps, tap),
    );
    track(
      runtime,
      work.then((answer) => showAnswer(runtime, place, answer)),
    );
    await work;
    await ack();
  });
}

const Again = z.object({ words: z.string(), threadTs: z.string().nullable() });

/** Does what was typed in a mention, now that there is a trigger to open its form with. */
async function typeAgain(runtime: Runtime, { who, channel, value }: Tap): Promise<Answer> {
  const again = readValue(Again, value);
  return channel === null ? {} : runTyped(runtime, { who, channel, ...again, by: 'mention' });
}

/** Submitted forms: errors keep the form open, anything said afterwards appears where it was opened from. */
export function listenForForms(app: App, runtime: Runtime): void {
  app.view(/.*/, async ({ body, ack }) => {
    runtime.counters.received.inc({ kind: 'submission' });
    const payload = FormPayload.safeParse(body).data;
    if (payload?.team.id !== runtime.me.workspace) {
      runtime.deps.log.warn('a form came in a shape that cannot be read');
      return ack();
    }
    const { team, user, view } = payload;
    const place = { person: user.id, ...formPlace(runtime, view), ...WITHOUT_TRIGGER };
    const submission = { who: { workspace: team.id, person: user.id }, form: readForm(view) };
    const submit = () => runtime.bot.submitted(runtime.deps, submission);
    const work = attempt(runtime, 'form', submit, (problem) => inlineError(view, problem));
    track(
      runtime,
      work.then(({ message }) => message && showAnswer(runtime, place, { message })),
    );
    const answer = await inTime(work);
    const pushed = answer?.pushForm ?? answer?.form;
    if (answer?.errors && Object.keys(answer.errors).length > 0)
      return ack({ response_action: 'errors', errors: { ...answer.errors } });
    if (answer?.closeAll) return ack({ response_action: 'clear' });
    if (pushed) return ack({ response_action: 'push', view: pushed });
    if (answer?.replaceForm) return ack({ response_action: 'update', view: answer.replaceForm });
    return ack();
  });
}

/** Where a form was opened from; one on top of another knows by the lowest. */
function formPlace({ formPlaces }: Runtime, view: ViewPayload | null | undefined) {
  return formPlaces.get(view?.root_view_id ?? view?.id ?? '') ?? { channel: null, threadTs: null };
}

/** The problem as an inline error, under the input it is about or the first one there is. */
function inlineError(view: ViewPayload, problem: UserError | Fault): SubmitAnswer | null {
  const inputs = view.blocks.filter((block) => block.type === 'input').map((block) => block.block_id);
  const about = problem instanceof UserError ? problem.input : null;
  const input = about !== null && inputs.includes(about) ? about : inputs.find((id) => id !== undefined);
  return input === undefined ? null : { errors: { [input]: plainSentence(problem) } };
}

/** Slack waits three seconds for an answer; what takes longer than this is answered later another way. */
const PATIENCE_MS = 2200;

/** The work's result, or null when it is not there in time (it goes on). */
function inTime<T>(work: Promise<T>): Promise<T | null> {
  return Promise.race([work, pause(PATIENCE_MS, null, { ref: false })]);
}
