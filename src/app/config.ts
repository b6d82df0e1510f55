import { existsSync } from 'node:fs';
import { z } from 'zod';

/** How the bot is connected: the local workspace, Socket Mode, or HTTP requests from Slack. */
export type Connection = Readonly<ReturnType<typeof connection>>;

export type Config = Readonly<ReturnType<typeof readConfig>>;

/** What is wrong with the environment, one line per variable, each saying what to set. */
export class ConfigProblem extends Error {
  override readonly name = 'ConfigProblem';
  readonly problems: readonly string[];
  constructor(problems: readonly string[]) {
    super(`The configuration needs a change:\n${problems.map((problem) => `  ${problem}`).join('\n')}`);
    this.problems = problems;
  }
}

const LEVELS = ['fatal', 'error', 'warn', 'info', 'debug', 'trace', 'silent'] as const;

function port(name: string) {
  const needs = `${name} must be a port number between 0 and 65535`;
  return z.coerce.number(needs).int(needs).min(0, needs).max(65535, needs);
}

/** @param page where Slack's settings show the token */
function token(name: string, what: string, start: string, page: string) {
  return z
    .string()
    .startsWith(start, `${name} must be the ${what} token, which starts with ${start} (${page})`);
}

const Environment = z.object({
  SLACK_BOT_TOKEN: token('SLACK_BOT_TOKEN', 'bot', 'xoxb-', 'OAuth & Permissions').optional(),
  SLACK_APP_TOKEN: token('SLACK_APP_TOKEN', 'app-level', 'xapp-', 'Basic Information').optional(),
  SLACK_SIGNING_SECRET: z
    .string()
    .min(16, 'SLACK_SIGNING_SECRET is too short: copy the signing secret from Basic Information')
    .optional(),
  PORT: port('PORT').optional(),
  HOST: z.string().default('127.0.0.1'),
  DATABASE: z.string().default('data/tallyspoon.db'),
  LOG_LEVEL: z.enum(LEVELS, `LOG_LEVEL must be one of ${LEVELS.join(', ')}`).default('info'),
  SLACK_API_URL: z
    .string()
    .refine(isLoopback, 'SLACK_API_URL may only name this machine, for example http://127.0.0.1:4000/api/')
    .optional(),
  TALLYSPOON_CLOCK_FILE: z.string().optional(),
  BACKUP_DIR: z.string().optional(),
  METRICS_PORT: port('METRICS_PORT').optional(),
});

/**
 * Reads the environment once.
 *
 * @throws ConfigProblem naming every variable that has to change
 */
export function readConfig(environment: Readonly<Record<string, string | undefined>>) {
  const given = Object.fromEntries(
    Object.entries(environment).filter(([, value]) => value !== undefined && value.trim() !== ''),
  );
  const parsed = Environment.safeParse(given);
  const problems = parsed.success ? [] : parsed.error.issues.map((issue) => issue.message);
  problems.push(...mismatches(given));
  if (!parsed.success || problems.length > 0) throw new ConfigProblem(problems);
  const values = parsed.data;
  return {
    connection: connection(values),
    /** The database's file. */
    database: values.DATABASE,
    logLevel: values.LOG_LEVEL,
    /** Where the Web API is, when it is not Slack's own; loopback only. */
    slackApiUrl: values.SLACK_API_URL ?? null,
    /** A JSON file { offsetMs } by which the clock is moved; only beside a loopback Web API. */
    clockFile: values.TALLYSPOON_CLOCK_FILE ?? null,
    /** Where nightly backups go; none when null. */
    backupDir: values.BACKUP_DIR ?? null,
    /** Loopback port for counters and health; none when null. */
    metricsPort: values.METRICS_PORT ?? null,
  };
}

function connection(values: z.output<typeof Environment>) {
  const {
    SLACK_BOT_TOKEN: botToken,
    SLACK_APP_TOKEN: appToken,
    SLACK_SIGNING_SECRET: signingSecret,
  } = values;
  if (botToken !== undefined && appToken !== undefined)
    return { mode: 'socket' as const, botToken, appToken };
  if (botToken !== undefined && signingSecret !== undefined)
    return { mode: 'http' as const, botToken, signingSecret, port: values.PORT ?? 3000, host: values.HOST };
  return { mode: 'local' as const, port: values.PORT ?? 4870 };
}

/** Variables that are right one by one and wrong together. */
function mismatches(given: Readonly<Record<string, string | undefined>>): string[] {
  const problems: string[] = [];
  const has = (name: string) => given[name] !== undefined;
  if (has('SLACK_BOT_TOKEN') && !has('SLACK_APP_TOKEN') && !has('SLACK_SIGNING_SECRET'))
    problems.push(
      'SLACK_BOT_TOKEN alone is not enough: set SLACK_APP_TOKEN too (Socket Mode), or SLACK_SIGNING_SECRET (HTTP)',
    );
  if (!has('SLACK_BOT_TOKEN') && (has('SLACK_APP_TOKEN') || has('SLACK_SIGNING_SECRET')))
    problems.push(
      'SLACK_BOT_TOKEN is missing: set it too, or unset every SLACK_ variable to use the local workspace',
    );
  if (has('TALLYSPOON_CLOCK_FILE') && !has('SLACK_API_URL'))
    problems.push('TALLYSPOON_CLOCK_FILE only works beside a SLACK_API_URL on this machine: unset it');
  return problems;
}

function isLoopback(url: string): boolean {
  const parsed = URL.canParse(url) ? new URL(url) : null;
  return parsed !== null && ['127.0.0.1', 'localhost', '[::1]'].includes(parsed.hostname);
}

/** Adds what a `.env` file in the folder says to the environment; what is set already stays as it is. */
export function readEnvFile(): void {
  if (existsSync('.env')) process.loadEnvFile('.env');
}
