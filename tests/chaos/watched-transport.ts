import type { Transport } from '../../src/local/deliver/transport.js';

/** An event that the bot has acknowledged with 2xx, whatever Slack then heard of it. */
export type Acknowledged = {
  readonly eventId: string;
  readonly event: unknown;
  /** The threads the bot had as its own when the event was sent. */
  readonly threads: ReadonlySet<string>;
  /** When it was sent for the first time, as early as the bot may believe: it forgets events a day after that. */
  readonly firstSentAt: Date;
};

/** Slack's way to the bot, with a record of what the bot said it has. */
export function watched(
  real: () => Transport,
  threads: () => ReadonlySet<string>,
  now: () => Date,
  onAcknowledged: (one: Acknowledged) => void,
): Transport {
  const firstSent = new Map<string, Date>();
  return {
    send: async (request, timeoutMs) => {
      const { event_id: eventId, event } = request.body;
      if (request.kind !== 'event' || typeof eventId !== 'string') return real().send(request, timeoutMs);
      const before = threads();
      const firstSentAt = firstSent.get(eventId) ?? now();
      firstSent.set(eventId, firstSentAt);
      const outcome = await real().send(request, timeoutMs);
      if (outcome.failure === null) onAcknowledged({ eventId, event, threads: before, firstSentAt });
      return outcome;
    },
  };
}
