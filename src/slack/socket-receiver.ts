import type { App, Receiver } from '@slack/bolt';
import { SocketModeClient } from '@slack/socket-mode';
import { z } from 'zod';
import type { Log } from '../runtime/log.js';
import { boltLogger } from './bolt-logger.js';
import { CardStillInFlight } from './card-in-flight.js';
import type { RightOfWay } from './right-of-way.js';
import { webOptions } from './web.js';

export type SocketOptions = {
  readonly appToken: string;
  readonly apiUrl: string | null;
  readonly log: Log;
  readonly rightOfWay: RightOfWay;
};

const Arrival = z.looseObject({
  ack: z.custom<(response?: Record<string, unknown>) => Promise<void>>(
    (value) => typeof value === 'function',
  ),
  body: z.record(z.string(), z.unknown()),
  retry_num: z.number().optional(),
  retry_reason: z.string().optional(),
});

/**
 * Slack's envelopes over a WebSocket. Bolt's own receiver acknowledges an event before its listener runs, so
 * that a crash loses it; this one acknowledges when the listener is done, and not at all when it fails: then
 * Slack sends the event again.
 */
export function createSocketReceiver({ appToken, apiUrl, log, rightOfWay }: SocketOptions): Receiver {
  const { retryConfig: _, ...clientOptions } = webOptions(apiUrl, log);
  const client = new SocketModeClient({ appToken, clientOptions, logger: boltLogger(log) });
  let app: App | undefined;

  async function take(args: unknown): Promise<void> {
    const arrival = Arrival.safeParse(args);
    if (!arrival.success) {
      log.warn('an envelope came in a shape that cannot be read');
      return;
    }
    const { ack, body, retry_num: retryNum, retry_reason: retryReason } = arrival.data;
    const done = rightOfWay.answering();
    let answer: unknown;
    let answered = false;
    try {
      await app?.processEvent({
        body,
        ack: async (response?: unknown) => {
          answer = response;
          answered = true;
        },
        ...(retryNum === undefined ? {} : { retryNum }),
        ...(retryReason === undefined ? {} : { retryReason }),
      });
      if (answered) await ack(asPayload(answer));
    } catch (error) {
      if (!(error instanceof CardStillInFlight))
        log.error({ err: error }, 'an envelope was not acknowledged');
    } finally {
      done();
    }
  }

  client.on('slack_event', (args: unknown) => void take(args));
  return {
    init: (boltApp: App) => {
      app = boltApp;
    },
    start: () => client.start(),
    stop: () => client.disconnect(),
  };
}

/** Socket Mode takes an object only; a bare text is the text of a message. */
function asPayload(answer: unknown): Record<string, unknown> {
  if (typeof answer === 'string') return { text: answer };
  return typeof answer === 'object' && answer !== null ? { ...answer } : {};
}
