import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { once } from 'node:events';
import { createWriteStream, type WriteStream } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';

export type Environment = Readonly<Record<string, string>>;

/** The bot as a process of its own, on its way to listening. */
export type BotProcess = {
  readonly pid: number;
  /** Where Slack's requests go, once it listens; null when it ended before. */
  readonly listening: Promise<string | null>;
  /** Ends it with a signal and waits until it is gone; the exit code, or null when the signal ended it. */
  readonly end: (signal: 'SIGKILL' | 'SIGTERM') => Promise<number | null>;
};

const MAIN = join(import.meta.dirname, '..', '..', 'src', 'main.js');
const LISTENING = /http:\/\/127\.0\.0\.1:\d+\/slack\/events/;
const GRACE_MS = 20_000;

/** Loads the next bot while the current one works; `start` lets it go on to its database. */
export function standBy(environment: Environment, logFile: string): { start(): BotProcess; discard(): void } {
  const child = spawn(
    process.execPath,
    // Without source maps: they would be read with every module, at every start.
    ['--import', import.meta.resolve('./hold.js'), MAIN],
    { env: { PATH: process.env['PATH'] ?? '', TZ: 'Pacific/Auckland', ...environment } },
  );
  child.stdin.on('error', () => {});
  const log = createWriteStream(logFile, { flags: 'a' });
  child.stderr.pipe(log, { end: false });
  const listening = whenListening(child, log);
  return {
    start: () => {
      child.stdin.write('go\n');
      return { pid: child.pid ?? 0, listening, end: (signal) => end(child, signal) };
    },
    discard: () => child.kill('SIGKILL'),
  };
}

function whenListening(child: ChildProcessWithoutNullStreams, log: WriteStream): Promise<string | null> {
  return new Promise((resolve) => {
    child.stdout.on('data', (chunk: Buffer) => {
      log.write(chunk);
      const url = LISTENING.exec(chunk.toString())?.[0];
      if (url !== undefined) resolve(url);
    });
    child.once('exit', () => resolve(null));
  });
}

async function end(
  child: ChildProcessWithoutNullStreams,
  signal: 'SIGKILL' | 'SIGTERM',
): Promise<number | null> {
  if (child.exitCode !== null || child.signalCode !== null) return child.exitCode;
  const gone = once(child, 'exit');
  child.kill(signal);
  await Promise.race([gone, sleep(GRACE_MS, undefined, { ref: false })]);
  if (child.exitCode === null && child.signalCode === null) {
    child.kill('SIGKILL');
    await gone;
  }
  return child.exitCode;
}
