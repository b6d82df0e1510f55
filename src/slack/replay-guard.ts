import type { IncomingMessage } from 'node:http';

const WINDOW_S = 300;
const REMEMBERED = 20_000;

/**
 * Slack signs the time; five minutes is its window. Bolt refuses older requests only, so newer ones are
 * refused here, and so is a command, tap or form whose very signature was seen before. Events may repeat:
 * they are known by their id.
 */
export function createReplayGuard(nowSeconds: () => number = () => Date.now() / 1000): {
  isFresh(request: IncomingMessage, rawBody: Buffer): boolean;
} {
  const seen = new Map<string, number>();
  return {
    isFresh(request, rawBody) {
      const signedAt = Number(request.headers['x-slack-request-timestamp']);
      const signature = request.headers['x-slack-signature'];
      if (signedAt > nowSeconds() + WINDOW_S) return false;
      const isForm = request.headers['content-type'] === 'application/x-www-form-urlencoded';
      if (!isForm || typeof signature !== 'string' || rawBody.length === 0) return true;
      forgetOld(seen, nowSeconds() - WINDOW_S);
      if (seen.has(signature)) return false;
      seen.set(signature, signedAt);
      return true;
    },
  };
}

/** Entries are in the order of arrival, which is near enough the order of signing. */
function forgetOld(seen: Map<string, number>, before: number): void {
  for (const [signature, signedAt] of seen) {
    if (signedAt >= before && seen.size <= REMEMBERED) return;
    seen.delete(signature);
  }
}
