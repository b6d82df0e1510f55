import type { App } from '@slack/bolt';
import { z } from 'zod';
import type { Answer } from '../commands/common/bot.js';
import type { Tap } from '../commands/common/intake.js';
import type { Incoming } from '../store/inbox.js';
import type { AnswerPlace } from './answer-place.js';
import { messageFor } from './apology.js';
import { attempt, problemOf } from './attempt.js';
import type { House } from './house.js';
import { inTime } from './in-time.js';
import { keepTap, placeOfTap } from './kept-tap.js';
import { TapPayload } from './payloads.js';
import { readTap } from './read-form.js';
import { showAnswer, showInTurn, TYPED_AGAIN } from './show-answer.js';
import { runTyped } from './typed-listener.js';

/**
 * Buttons and selects. Slack hears at once that the tap arrived (after it, or what it changed, is stored); what
 * the person sees follows on its own.
 */
export function listenForTaps(app: App, house: House): void {
  app.action(/.*/, async ({ body, ack }) => {
    house.counters.received.inc({ kind: 'tap' });
    const payload = TapPayload.safeParse(body);
    if (!payload.success || payload.data.team.id !== house.me.workspace) {
      house.deps.log.warn('a tap came in a shape that cannot be read');
      return ack();
    }
    const tap = readTap(payload.data);
    const place = placeOfTap(payload.data, tap, house);
    if (house.bot.keepsTap(tap)) {
      await keep(house, keepTap(payload.data, tap, house.deps.clock.now()), place);
      return ack();
    }
    const work = house.inHand.run(() => runTap(house, tap));
    house.inHand.background(async () => showInTurn(house, place, await work));
    await inTime(work);
    await ack();
  });
}

async function keep(house: House, incoming: Incoming, place: AnswerPlace): Promise<void> {
  try {
    if (await house.inbox.insert(incoming)) house.wake('worker');
  } catch (error) {
    const message = messageFor(problemOf(house, 'tap', error));
    house.inHand.background(() => showAnswer(house, place, { message }));
  }
}

async function runTap(house: House, tap: Tap): Promise<Answer> {
  if (tap.action === TYPED_AGAIN) return typeAgain(house, tap);
  const outcome = await attempt(house, 'tap', () => house.bot.tapped(house.deps, tap));
  return outcome.ok ? outcome.value : { message: messageFor(outcome.problem) };
}

const Again = z.object({ words: z.string(), threadTs: z.string().nullable() });

/** Does what was typed in a mention, now that there is a trigger to open its form with. */
async function typeAgain(house: House, tap: Tap): Promise<Answer> {
  const again = Again.safeParse(parseOrNull(tap.value));
  if (!again.success || tap.channel === null) return {};
  return runTyped(house, {
    who: tap.who,
    channel: tap.channel,
    threadTs: again.data.threadTs,
    words: again.data.words,
    by: 'mention',
  });
}

function parseOrNull(json: string): unknown {
  try {
    return JSON.parse(json);
  } catch {
    return null;
  }
}
