import { App, HTTPReceiver, LogLevel } from '@slack/bolt';
import Database from 'better-sqlite3';
import { signingSecret } from './parts.js';

/*
 * What an acknowledgement cannot be quicker than: Bolt behind the same receiver options with the signature
 * checked, and one bare insert that is durable before the answer.
 */

const [file = ''] = process.argv.slice(2);
const sqlite = new Database(file);
sqlite.pragma('journal_mode = WAL');
sqlite.pragma('synchronous = FULL');
sqlite.exec('create table if not exists inbox (id integer primary key, key text unique, body text) strict');
const insert = sqlite.prepare('insert into inbox (key, body) values (?, ?) on conflict do nothing');

const receiver = new HTTPReceiver({
  signingSecret,
  processBeforeResponse: true,
  logLevel: LogLevel.ERROR,
  port: 0,
});
const app = new App({
  receiver,
  token: 'xoxb-bench',
  botId: 'B0BOT',
  botUserId: 'U0BOT',
  convoStore: false,
  processBeforeResponse: true,
  logLevel: LogLevel.ERROR,
});
app.event('message', async ({ body }) => {
  insert.run(body.event_id, JSON.stringify(body));
});
app.command('/spoon', async ({ ack, body }) => {
  insert.run(body.trigger_id, JSON.stringify(body));
  await ack({ response_type: 'ephemeral', text: 'Nothing is waiting for you.' });
});
app.action(/.*/, async ({ ack, body }) => {
  insert.run('trigger_id' in body ? body.trigger_id : null, JSON.stringify(body));
  await ack();
});

const server = await app.start({ port: 0, host: '127.0.0.1' });
const address = server.address();
const port = typeof address === 'object' && address !== null ? address.port : 0;
process.send?.({ ready: `http://127.0.0.1:${port}/slack/events` });

/* The bare rate of durable one-row transactions, asked for between the rounds of the bot. */
process.on('message', (message) => {
  const { id, rows } = JSON.parse(String(message));
  const body = JSON.stringify({ text: 'lemon, black tea, light body'.repeat(10) });
  const started = performance.now();
  for (let row = 0; row < rows; row += 1) insert.run(`row:${started}:${row}`, body);
  process.send?.({ id, answer: { seconds: (performance.now() - started) / 1000 } });
});
