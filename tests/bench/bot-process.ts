import { readConfig } from '../../src/app/config.js';
import { startBot } from '../../src/app/run.js';
import { systemClock } from '../../src/runtime/clock.js';
import { createLog } from '../../src/runtime/log.js';
import { answerFor } from './bot-answers.js';
import { signingSecret } from './parts.js';

/* The real bot, as `npm start` puts it together, on a free port and a database file of the benchmark. */

const [database = '', slackApiUrl = ''] = process.argv.slice(2);
const config = readConfig({
  SLACK_BOT_TOKEN: 'xoxb-bench',
  SLACK_SIGNING_SECRET: signingSecret,
  SLACK_API_URL: slackApiUrl,
  DATABASE: database,
  PORT: '0',
});
const { connection } = config;
if (connection.mode !== 'http') throw new Error('the benchmark speaks HTTP');
const log = createLog('error');
const running = await startBot({
  config: { ...config, connection },
  clock: systemClock,
  log,
});
process.send?.({ ready: running.url });

process.on('message', async (message) => {
  const { id, ...question } = JSON.parse(String(message));
  try {
    process.send?.({ id, answer: await answerFor(running, question) });
  } catch (error) {
    process.stderr.write(`${error instanceof Error ? error.stack : String(error)}\n`);
    process.exit(1);
  }
});
process.on('SIGTERM', () => {
  running.stop().then(
    () => process.exit(0),
    () => process.exit(1),
  );
});
