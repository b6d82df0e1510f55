import type { App } from '@slack/bolt';
import type { Answer } from '../commands/common/bot.js';
import type { Typed } from '../commands/common/intake.js';
import { messageFor } from './apology.js';
import { attempt } from './attempt.js';
import type { House } from './house.js';
import { inTime } from './in-time.js';
import { CommandPayload } from './payloads.js';
import { showAnswer } from './show-answer.js';
import { decodeText } from './text-in.js';

/** `/spoon …`: the one slash command. Its message is the acknowledgement itself; forms open right after it. */
export function listenForCommands(app: App, house: House): void {
  app.command('/spoon', async ({ body, ack }) => {
    house.counters.received.inc({ kind: 'command' });
    const payload = CommandPayload.safeParse(body);
    if (!payload.success || payload.data.team_id !== house.me.workspace)
      return ack('That command came in a shape I cannot read. Please type it again.');
    const command = payload.data;
    const work = house.inHand.run(() => runTyped(house, readCommand(command)));
    const answer = await inTime(work);
    const place = {
      person: command.user_id,
      channel: command.channel_id,
      threadTs: null,
      trigger: command.trigger_id,
      responseUrl: command.response_url ?? null,
      form: null,
    };
    if (answer === null) {
      house.inHand.background(async () => showAnswer(house, place, await work));
      return ack('Still working on it. The answer comes in a moment.');
    }
    const { message, ...forms } = answer;
    if (forms.form || forms.pushForm) house.inHand.background(() => showAnswer(house, place, forms));
    await (message
      ? ack({ response_type: 'ephemeral', text: message.text, blocks: [...message.blocks] })
      : ack());
  });
}

/** Runs what was typed; a refusal or a fault becomes the message to show. */
export async function runTyped(house: House, typed: Typed): Promise<Answer> {
  const outcome = await attempt(house, 'command', () => house.bot.typed(house.deps, typed));
  return outcome.ok ? outcome.value : { message: messageFor(outcome.problem) };
}

function readCommand(command: CommandPayload): Typed {
  return {
    who: { workspace: command.team_id, person: command.user_id },
    channel: command.channel_id,
    threadTs: null,
    words: decodeText(command.text).trim(),
    by: 'slash',
  };
}
