import { type Logger, pino } from 'pino';

export type Log = Logger;

/** Where a secret could stand in a logged object; note text is never logged at all. */
const SECRETS = ['token', 'signingSecret', 'authorization', 'text', 'body'].flatMap((name) => [
  name,
  `*.${name}`,
]);

/** Structured logs, one JSON line each, with tokens, secrets and people's words left out. */
export function createLog(level: string, destination?: { write(line: string): void }): Log {
  const options = { level, base: null, redact: { paths: SECRETS, censor: '[left out]' } };
  return destination ? pino(options, destination) : pino(options);
}
