import type { Message } from '../kit/message.js';
import type { AnswerPlace } from './answer-place.js';
import { readFailure } from './call-outcome.js';
import type { House } from './house.js';
import { plainFetch } from './plain-fetch.js';

/**
 * Says something to one person where they are; where that is not possible (the bot is not in the channel,
 * the tap was in the home tab) through the response URL, and at last in their direct messages. Never throws.
 */
export async function whisper(house: House, place: AnswerPlace, message: Message): Promise<void> {
  const ways = [ephemeral, throughResponseUrl, direct];
  for (const way of ways) {
    try {
      if (await way(house, place, message)) return;
    } catch (error) {
      const failure = readFailure(error);
      house.counters.refusedCalls.inc({ outcome: failure.kind });
      house.deps.log.warn({ failure, way: way.name }, 'could not answer this way');
    }
  }
}

async function ephemeral(house: House, place: AnswerPlace, message: Message): Promise<boolean> {
  if (place.channel === null) return false;
  await house.web.chat.postEphemeral({
    channel: place.channel,
    user: place.person,
    ...(place.threadTs === null ? {} : { thread_ts: place.threadTs }),
    text: message.text,
    blocks: [...message.blocks],
  });
  return true;
}

async function throughResponseUrl(
  _house: House,
  { responseUrl }: AnswerPlace,
  message: Message,
): Promise<boolean> {
  if (responseUrl === null) return false;
  const body = {
    response_type: 'ephemeral',
    replace_original: false,
    text: message.text,
    blocks: message.blocks,
  };
  const answer = await plainFetch(responseUrl, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
    signal: AbortSignal.timeout(10_000),
  });
  return answer.ok;
}

async function direct(house: House, { person }: AnswerPlace, message: Message): Promise<boolean> {
  const opened = await house.web.conversations.open({ users: person });
  const channel = opened.channel?.id;
  if (!channel) return false;
  await house.web.chat.postMessage({ channel, text: message.text, blocks: [...message.blocks] });
  return true;
}
