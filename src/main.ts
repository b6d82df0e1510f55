import { join } from 'node:path';
import { type Config, ConfigProblem, readConfig, readEnvFile } from './app/config.js';
import { startBot } from './app/run.js';
import { startLocal } from './app/run-local.js';
import { fileClock, systemClock } from './runtime/clock.js';
import { createLog, type Log } from './runtime/log.js';
import { StartProblem } from './slack/out/web-api.js';
import { DatabaseProblem } from './store/sqlite/problems.js';

/* Where everything is put together: configuration, clock, log, bot, and a clean end. */

try {
  readEnvFile();
  const config = readConfig(process.env);
  const log = createLog(config.logLevel);
  const running = await start(config, log);
  // Whoever reads that it is up may stop it at once.
  endCleanly(running, log);
  running.announce();
} catch (error) {
  explain(error);
  // Whatever was opened before the trouble must not keep the process.
  process.exit(1);
}

type Running = { stop(): Promise<void>; announce(): void };

async function start(config: Config, log: Log): Promise<Running> {
  const { connection } = config;
  if (connection.mode === 'local') return startHere(config, connection.port, log);
  const clock = config.clockFile === null ? systemClock : fileClock(config.clockFile);
  const running = await startBot({ config: { ...config, connection }, clock, log });
  const where = running.url ?? 'Socket Mode';
  return {
    stop: running.stop,
    announce: () => log.info({ where, metrics: running.metricsUrl }, 'Tallyspoon is listening'),
  };
}

async function startHere({ database, metricsPort }: Config, port: number, log: Log): Promise<Running> {
  const local = await startLocal({
    log,
    database,
    port,
    metricsPort,
    fresh: process.argv.includes('--fresh'),
    // The page's compiled files are beside this one.
    workspaceOptions: { pageDirectory: join(import.meta.dirname, 'local', 'page') },
  });
  const announce = () =>
    process.stdout.write(
      `\nTallyspoon is at work in a local workspace. Open ${local.workspace.url} and pick a person.\n` +
        'Everything stays on this machine. Ctrl-C stops it; npm start goes on where you left off,\n' +
        'npm start -- --fresh starts over.\n\n',
    );
  return { stop: local.stop, announce };
}

function endCleanly(running: { stop(): Promise<void> }, log: Log): void {
  let ending = false;
  const end = (signal: string) => {
    if (ending) return;
    ending = true;
    log.info({ signal }, 'finishing what is in hand');
    running.stop().then(
      () => process.exit(0),
      (error: unknown) => {
        log.error({ err: error }, 'could not finish cleanly');
        process.exit(1);
      },
    );
  };
  process.on('SIGTERM', end);
  process.on('SIGINT', end);
}

/** A known problem is one line that says what to do; anything else comes with its stack. */
function explain(error: unknown): void {
  const known =
    error instanceof ConfigProblem || error instanceof DatabaseProblem || error instanceof StartProblem;
  const portTaken =
    error instanceof Error && 'code' in error && error.code === 'EADDRINUSE'
      ? 'The port is taken by another process. Stop it, or set PORT to another number.'
      : null;
  const words = portTaken ?? (known ? error.message : error instanceof Error ? error.stack : String(error));
  process.stderr.write(`${words}\n`);
}
