import { type Logger, LogLevel } from '@slack/bolt';
import type { Log } from '../runtime/log.js';

/**
 * Bolt's log lines in ours; only their words, as their objects may hold what people wrote. Its debug lines
 * spell out whole requests and answers, notes and all: they are never logged, at any level.
 */
export function boltLogger(log: Log): Logger {
  const words = (parts: readonly unknown[]) => parts.filter((part) => typeof part === 'string').join(' ');
  return {
    debug: () => {},
    info: (...parts) => log.debug(words(parts)),
    warn: (...parts) => log.warn(words(parts)),
    error: (...parts) => log.error(words(parts)),
    setLevel: () => {},
    getLevel: () => LogLevel.INFO,
    setName: () => {},
  };
}
