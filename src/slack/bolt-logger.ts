import { type Logger, LogLevel } from '@slack/bolt';
import type { Log } from '../log.js';

/** Bolt's log lines in ours; only their words, as their objects may hold what people wrote. */
export function boltLogger(log: Log): Logger {
  const words = (parts: readonly unknown[]) => parts.filter((part) => typeof part === 'string').join(' ');
  return {
    debug: (...parts) => log.trace(words(parts)),
    info: (...parts) => log.debug(words(parts)),
    warn: (...parts) => log.warn(words(parts)),
    error: (...parts) => log.error(words(parts)),
    setLevel: () => {},
    getLevel: () => LogLevel.INFO,
    setName: () => {},
  };
}
