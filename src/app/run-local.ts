import { mkdirSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import { personClient } from '../local/person-client.js';
import { fernhollow, type Scenario } from '../local/scenario.js';
import { startWorkspace, type Workspace, type WorkspaceOptions } from '../local/workspace.js';
import { lockDatabase } from '../store/sqlite/open.js';
import { readManifest } from './manifest.js';
import { type BotOptions, type RunningBot, startBot } from './run.js';
import { seedScenario } from './seed.js';

export type LocalOptions = Omit<BotOptions, 'config' | 'clock'> & {
  /** The bot's database file, or ':memory:'; the workspace keeps its own beside it. */
  readonly database: string;
  readonly port: number;
  /** Throws both away first. */
  readonly fresh: boolean;
  readonly scenario?: Scenario;
  readonly workspaceOptions?: Partial<WorkspaceOptions>;
  readonly metricsPort?: number | null;
};

/** The bot and a workspace to live in, in one process; the workspace's clock is the bot's. */
export async function startLocal(options: LocalOptions) {
  if (options.database !== ':memory:') mkdirSync(dirname(options.database), { recursive: true });
  if (options.fresh) throwAway(options.database);
  const scenario = options.scenario ?? fernhollow;
  const workspace = await startWorkspace({
    scenario,
    port: options.port,
    databaseFile: workspaceFile(options.database),
    ...readManifest(),
    ...options.workspaceOptions,
  });
  try {
    const bot = await startBotIn(workspace, options);
    const state = await personClient(workspace.url).state();
    const people = new Map(state.people.filter(({ isBot }) => !isBot).map(({ name, id }) => [name, id]));
    const first = state.channels.find(({ name }) => name === scenario.channels[0]?.name);
    await seedScenario(bot.deps, bot.workspace, people, first?.id ?? '');
    bot.runtime.wake();
    return {
      workspace,
      bot,
      stop: async () => {
        await bot.stop();
        await workspace.close();
      },
    };
  } catch (error) {
    await workspace.close();
    throw error;
  }
}

/** Starts the bot against a workspace that runs in this process, and tells the workspace where it is. */
export async function startBotIn(
  workspace: Workspace,
  options: Pick<LocalOptions, 'database' | 'metricsPort'> & Omit<BotOptions, 'config' | 'clock'>,
): Promise<RunningBot> {
  const { database, metricsPort, ...rest } = options;
  const bot = await startBot({
    ...rest,
    clock: workspace.clock,
    config: {
      connection: {
        mode: 'http',
        botToken: workspace.botToken,
        signingSecret: workspace.signingSecret,
        port: 0,
        host: '127.0.0.1',
      },
      database,
      logLevel: 'info',
      slackApiUrl: workspace.apiUrl,
      clockFile: null,
      backupDir: null,
      metricsPort: metricsPort ?? null,
    },
  });
  if (bot.url !== null) workspace.connectBot(bot.url);
  return bot;
}

function workspaceFile(database: string): string {
  return database === ':memory:' ? database : `${database.replace(/\.db$/, '')}-workspace.db`;
}

/** Both databases go, unless another process is using them. */
function throwAway(database: string): void {
  if (database === ':memory:') return;
  const lock = lockDatabase(database);
  for (const file of [database, workspaceFile(database)])
    for (const suffix of ['', '-wal', '-shm']) rmSync(`${file}${suffix}`, { force: true });
  lock.release();
}
