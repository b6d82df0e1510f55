import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { startChild } from './children.js';
import { type Figure, figure } from './figures.js';

export type Started = { readonly what: string; readonly ms: Figure };

/** From starting the process until it listens, beside a process that imports Bolt and opens the same file. */
export async function startUp(
  files: ReadonlyMap<string, string>,
  slackApi: string,
  rounds: number,
): Promise<readonly Started[]> {
  const times = new Map<string, number[]>();
  const keep = (what: string, ms: number) => times.set(what, [...(times.get(what) ?? []), ms]);
  for (let round = 0; round <= rounds; round += 1)
    for (const [name, file] of files) {
      const floorMs = await floor(file);
      const bot = await startChild('bot-process', [file, slackApi]);
      await bot.stop();
      if (round === 0) continue;
      keep(`floor, ${name}`, floorMs);
      keep(`bot, ${name}`, bot.startedInMs);
    }
  return [...times].map(([what, all]) => ({ what, ms: figure(all) }));
}

function floor(file: string): Promise<number> {
  const started = performance.now();
  const child = spawn(process.execPath, [join(import.meta.dirname, 'open-only.js'), file], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  return new Promise((resolve, reject) => {
    child.once('exit', (code) =>
      code === 0
        ? resolve(performance.now() - started)
        : reject(new Error('the start-up floor could not run')),
    );
  });
}
