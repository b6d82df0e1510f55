import type { Transport } from '../../local/deliver/transport.js';

/** An event that the bot has acknowledged with 2xx, whatever Slack then heard of it. */
export type Acknowledged = {
  readonly eventId: string;
  readonly event: unknown;
  /** The threads the bot had as its own when the event was sent. */
  readonly threads: ReadonlySet<string>;
  /** By the workspace's clock. */
  readonly at: Date;
};

/** Slack's way to the bot, with a record of what the bot said it has. */
export function watched(
  real: () => Transport,
  threads: () => ReadonlySet<string>,
  now: () => Date,
  onAcknowledged: (one: Acknowledged) => void,
): Transport {
  return {
    send: async (request, timeoutMs) => {
      const before = threads();
      const outcome = await real().send(request, timeoutMs);
      const { event_id: eventId, event } = request.body;
      if (request.kind === 'event' && outcome.failure === null && typeof eventId === 'string')
        onAcknowledged({ eventId, event, threads: before, at: now() });
      return outcome;
    },
  };
}
