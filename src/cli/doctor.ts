import { existsSync } from 'node:fs';
import { ConfigProblem, readConfig, readEnvFile } from '../app/config.js';
import { checkDatabase, type Examined } from './doctor-database.js';
import { checkSlack } from './doctor-slack.js';
import { type Finding, good } from './finding.js';

/*
 * `npm run doctor`: looks at the configuration, the database and Slack, and says what to fix. It changes
 * nothing, and may be run while the bot runs.
 */

const findings = await examine();
for (const { ok, what, fix } of findings) {
  console.log(`${ok ? 'ok   ' : 'FIX  '} ${what}`);
  if (!ok && fix !== null) console.log(`      ${fix}`);
}
const wrong = findings.filter(({ ok }) => !ok).length;
console.log(wrong === 0 ? '\nAll is well.' : `\n${wrong} thing${wrong === 1 ? '' : 's'} to fix.`);
process.exitCode = wrong === 0 ? 0 : 1;

async function examine(): Promise<readonly Finding[]> {
  try {
    readEnvFile();
    const config = readConfig(process.env);
    const { connection, database } = config;
    const configured = { ok: true, what: `configuration: ${connection.mode} mode`, fix: null };
    const stored = existsSync(database) ? await checkDatabase(database) : notMadeYet(database);
    const slack = connection.mode === 'local' ? [] : await checkSlack(config, connection, stored.channels);
    return [configured, ...stored.findings, ...slack];
  } catch (error) {
    if (!(error instanceof ConfigProblem)) throw error;
    return error.problems.map((problem) => ({ ok: false, what: 'configuration', fix: problem }));
  }
}

function notMadeYet(database: string): Examined {
  const what = `database: ${database} does not exist yet and is made at the first start`;
  return { findings: [good(what)], channels: [] };
}
