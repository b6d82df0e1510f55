import type { JsonObject } from '../api-types.js';

/** Why Slack tries an event again, as its retry header says it. */
export type RetryReason = 'http_timeout' | 'connection_failed' | 'http_error';

/** One thing for the bot, before it is put on a wire. */
export type BotRequest = {
  readonly kind: 'event' | 'command' | 'interactive';
  readonly body: JsonObject;
  /** Only events are tried again. */
  readonly retry?: { readonly num: number; readonly reason: string } | undefined;
};

/** What came back; status 0 when nothing did. */
export type Outcome = {
  readonly status: number;
  readonly body: string;
  readonly contentType: string;
  /** The bot asked, with its refusal, that the event not be tried again. */
  readonly noRetry: boolean;
  readonly failure: RetryReason | null;
};

/** How requests reach the bot: signed HTTP, or a socket. */
export type Transport = {
  readonly send: (request: BotRequest, timeoutMs: number) => Promise<Outcome>;
  /** For Socket Mode: what `apps.connections.open` answers. */
  readonly socketUrl?: () => string;
};

/** Nothing came back, and why. */
export function noAnswer(failure: RetryReason): Outcome {
  return { status: 0, body: '', contentType: '', noRetry: false, failure };
}
