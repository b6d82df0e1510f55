import { parseArgs } from 'node:util';
import { z } from 'zod';
import { type ChaosResult, runChaos } from './chaos-run.js';
import type { Life } from './lives.js';

/*
 * `npm run chaos -- --seed 1 --kills 50` plays a whole tasting against the local workspace, under Slack's bad
 * days, while the bot is killed fifty times at random moments; then everything is compared with what people
 * did. `--seed 1-20` plays twenty of them, `--json` prints the results as JSON, `--quiet` only each seed's end.
 */

const Options = z.object({
  seed: z.string().regex(/^\d{1,6}(-\d{1,6})?$/, '--seed is a number, or a range like 1-20'),
  kills: z.coerce.number().int('--kills is a whole number').min(1).max(1000),
  json: z.boolean(),
  quiet: z.boolean(),
});

const { values } = parseArgs({
  options: {
    seed: { type: 'string', default: '1' },
    kills: { type: 'string', default: '50' },
    json: { type: 'boolean', default: false },
    quiet: { type: 'boolean', default: false },
  },
});
const parsed = Options.safeParse(values);
if (parsed.success) await runSeeds(parsed.data);
else {
  console.error(parsed.error.issues.map(({ message }) => message).join('\n'));
  process.exitCode = 2;
}

async function runSeeds({ seed, kills, json, quiet }: z.output<typeof Options>): Promise<void> {
  const [first = 1, last = first] = seed.split('-').map(Number);
  const results: ChaosResult[] = [];
  for (let each = first; each <= last; each += 1) {
    const result = await runChaos(each, kills, (life) => {
      if (!json && !quiet) console.log(lifeLine(each, kills, life));
    });
    results.push(result);
    if (!json) report(result);
  }
  const failed = results.filter(({ violations }) => violations.length > 0).length;
  if (json) console.log(JSON.stringify(results, null, 2));
  else console.log(`${results.length - failed} passed, ${failed} failed`);
  if (failed > 0) process.exitCode = 1;
}

function lifeLine(seed: number, kills: number, { phase, killed, startMs, livedMs }: Life): string {
  const started = startMs === null ? 'not up yet' : `up in ${Math.round(startMs)} ms`;
  return `seed ${seed} · life ${phase} of ${kills} · ${started} · killed ${killed} · lived ${Math.round(livedMs)} ms`;
}

function report(result: ChaosResult): void {
  const { seed, kills, notes, chatter, events, calls, ms, startMs, violations, folder } = result;
  const what = `${kills} kills, ${notes} notes, ${chatter} words of talk, ${events} events acknowledged, ${calls} calls`;
  const how = violations.length === 0 ? 'passed' : 'FAILED';
  console.log(`seed ${seed}: ${how} · ${what} · start ${startMs} ms · ${(ms / 1000).toFixed(1)} s`);
  for (const violation of violations) console.log(`  - ${violation}`);
  if (folder !== null) console.log(`  databases and log: ${folder}`);
}
