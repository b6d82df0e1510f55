import { createHmac } from 'node:crypto';

/** Slack's v0 signature: HMAC-SHA256 over version, time in seconds and the exact body. */
export function signature(secret: string, seconds: number, body: string): string {
  return `v0=${createHmac('sha256', secret).update(`v0:${seconds}:${body}`).digest('hex')}`;
}
