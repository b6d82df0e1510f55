import { readFileSync } from 'node:fs';
import { z } from 'zod';
import { SECRET_BEGINS } from './expected.js';
import type { World } from './world.js';

/** Nothing from outside the tables is in the database, not even in its free pages; no log line has words or tokens. */
export function checkSecrets(world: World): readonly string[] {
  const wrong: string[] = [];
  for (const suffix of ['', '-wal', '-shm']) {
    const bytes = bytesOf(world.database + suffix);
    for (const secret of world.expected.secrets)
      if (bytes.includes(secret)) wrong.push(`“${secret}” was not the bot's business and is in the database`);
  }
  const log = bytesOf(world.log);
  const neverLogged = [...world.expected.secrets, world.workspace.botToken, world.workspace.signingSecret];
  for (const secret of neverLogged)
    if (log.includes(secret)) wrong.push(`the log has what it never should: “${secret.slice(0, 12)}…”`);
  return wrong;
}

/** At each kill: nothing from outside the tables in the files, not even for the moment until it is handled. */
export function checkFreshSecrets(world: World, phase: number): readonly string[] {
  const found = ['', '-wal'].some((suffix) => bytesOf(world.database + suffix).includes(SECRET_BEGINS));
  return found ? [`life ${phase}: what was not the bot's business is in the database`] : [];
}

const Line = z.object({
  level: z.number(),
  msg: z.string(),
  err: z.object({ message: z.string() }).optional(),
});

/** Lines at the level of errors: under these faults nothing is the bot's own mistake. */
export function checkLog(world: World): readonly string[] {
  const lines = bytesOf(world.log).toString('utf8').split('\n');
  const wrong = new Map<string, number>();
  for (const line of lines) {
    const said = line.startsWith('{') ? levelAndWords(line) : line.trim();
    if (said !== '') wrong.set(said, (wrong.get(said) ?? 0) + 1);
  }
  return [...wrong].map(([said, times]) => `the log says ${times} times: ${said}`);
}

/** Empty for what is no error; a line cut short by the kill is none either. */
function levelAndWords(line: string): string {
  try {
    const parsed = Line.parse(JSON.parse(line));
    if (parsed.level < 50) return '';
    return parsed.err === undefined ? parsed.msg : `${parsed.msg} (${parsed.err.message})`;
  } catch {
    return '';
  }
}

function bytesOf(file: string): Buffer {
  try {
    return readFileSync(file);
  } catch {
    return Buffer.alloc(0);
  }
}
