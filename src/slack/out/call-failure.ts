import {
  WebAPIHTTPError,
  WebAPIPlatformError,
  WebAPIRateLimitedError,
  WebAPIRequestError,
} from '@slack/web-api';

/**
 * What a failed Web API call means:
 * - `refused`: Slack said no, so nothing happened;
 * - `rate limited`: nothing happened, and when to ask again;
 * - `unclear`: no answer, so it may or may not have happened.
 */
export type CallFailure =
  | { readonly kind: 'refused'; readonly error: string }
  | { readonly kind: 'rate limited'; readonly retryMs: number; readonly error: string }
  | { readonly kind: 'unclear'; readonly error: string };

const SLACK_IN_TROUBLE = new Set([
  'fatal_error',
  'internal_error',
  'service_unavailable',
  'request_timeout',
  'team_added_to_org',
]);

/** Slack asks to wait without saying how long. */
const TOLD_TO_WAIT = { kind: 'rate limited', retryMs: 30_000, error: 'ratelimited' } as const;

export function readFailure(error: unknown): CallFailure {
  if (error instanceof WebAPIRateLimitedError)
    return { kind: 'rate limited', retryMs: error.retryAfter * 1000, error: 'ratelimited' };
  if (error instanceof WebAPIPlatformError) return readRefusal(error.data.error);
  if (error instanceof WebAPIHTTPError)
    return error.statusCode === 429 ? TOLD_TO_WAIT : { kind: 'unclear', error: `HTTP ${error.statusCode}` };
  if (error instanceof WebAPIRequestError) return { kind: 'unclear', error: error.original.message };
  if (error instanceof Error && error.message.includes('Retry header did not contain')) return TOLD_TO_WAIT;
  return { kind: 'unclear', error: error instanceof Error ? error.message : String(error) };
}

function readRefusal(error: string | undefined): CallFailure {
  if (error === undefined || !/^[a-z0-9_]+$/.test(error))
    return { kind: 'unclear', error: 'an answer that is not JSON' };
  if (error === 'ratelimited' || error === 'rate_limited')
    return { kind: 'rate limited', retryMs: 30_000, error };
  return SLACK_IN_TROUBLE.has(error) ? { kind: 'unclear', error } : { kind: 'refused', error };
}

/** Whether Slack said no with one of these errors. */
function isRefused(error: unknown, ...errors: readonly string[]): boolean {
  const failure = readFailure(error);
  return failure.kind === 'refused' && errors.includes(failure.error);
}

/** Makes a call that may be as good as done when Slack says no; false when there is no message to do it to. */
export async function isDoneOn(call: () => Promise<unknown>, ...asGood: readonly string[]): Promise<boolean> {
  try {
    await call();
  } catch (error) {
    if (isRefused(error, 'message_not_found')) return false;
    if (!isRefused(error, ...asGood)) throw error;
  }
  return true;
}

/** A trigger that was too old or used already, in the four spellings Slack has for it. */
export function isTriggerGone(error: string): boolean {
  return /^(expired_trigger_id|exchanged_trigger_id|trigger_expired|trigger_exchanged)$/.test(error);
}
