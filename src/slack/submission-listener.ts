import type { App } from '@slack/bolt';
import type { SubmitAnswer } from '../commands/common/bot.js';
import { KindRefusal } from '../runtime/errors.js';
import { type Fault, messageFor, plainSentence } from './apology.js';
import { attempt } from './attempt.js';
import type { House } from './house.js';
import { inTime } from './in-time.js';
import { SubmissionPayload, type ViewPayload } from './payloads.js';
import { readForm } from './read-form.js';
import { showAnswer } from './show-answer.js';

/** Submitted forms: errors keep the form open, anything said afterwards appears where it was opened from. */
export function listenForSubmissions(app: App, house: House): void {
  app.view(/.*/, async ({ body, ack }) => {
    house.counters.received.inc({ kind: 'submission' });
    const payload = SubmissionPayload.safeParse(body);
    if (!payload.success || payload.data.team.id !== house.me.workspace) {
      house.deps.log.warn('a form came in a shape that cannot be read');
      return ack();
    }
    const { team, user, view } = payload.data;
    const submission = { who: { workspace: team.id, person: user.id }, form: readForm(view) };
    const work = house.inHand.run(() => runSubmission(house, view, submission));
    const from = house.formPlaces.find(view.root_view_id ?? view.id);
    const place = {
      person: user.id,
      channel: from?.channel ?? null,
      threadTs: from?.threadTs ?? null,
      trigger: null,
      responseUrl: null,
      form: null,
    };
    house.inHand.background(async () => {
      const { message } = await work;
      if (message) await showAnswer(house, place, { message });
    });
    const answer = await inTime(work);
    if (answer === null || !keepsForm(answer)) return ack();
    if (answer.errors && Object.keys(answer.errors).length > 0)
      return ack({ response_action: 'errors', errors: { ...answer.errors } });
    if (answer.closeAll) return ack({ response_action: 'clear' });
    const pushed = answer.pushForm ?? answer.form;
    if (pushed) return ack({ response_action: 'push', view: pushed });
    if (answer.replaceForm) return ack({ response_action: 'update', view: answer.replaceForm });
    return ack();
  });
}

function keepsForm(answer: SubmitAnswer): boolean {
  return (
    answer.errors !== undefined ||
    answer.closeAll === true ||
    answer.pushForm !== undefined ||
    answer.form !== undefined ||
    answer.replaceForm !== undefined
  );
}

async function runSubmission(
  house: House,
  view: ViewPayload,
  submission: Parameters<House['bot']['submitted']>[1],
): Promise<SubmitAnswer> {
  const outcome = await attempt(house, 'form', () => house.bot.submitted(house.deps, submission));
  if (outcome.ok) return outcome.value;
  return inline(view, outcome.problem) ?? { message: messageFor(outcome.problem) };
}

/** The problem as an inline error, under the input it is about or the first one there is. */
function inline(view: ViewPayload, problem: KindRefusal | Fault): SubmitAnswer | null {
  const inputs = view.blocks.filter((block) => block.type === 'input').map((block) => block.block_id);
  const about = problem instanceof KindRefusal ? problem.input : null;
  const input = about !== null && inputs.includes(about) ? about : inputs.find((id) => id !== undefined);
  return input === undefined ? null : { errors: { [input]: plainSentence(problem) } };
}
