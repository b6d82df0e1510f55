import { createServer } from 'node:http';

/* As much of Slack's Web API as the bot calls under load, in a process of its own: it answers at once. */

let count = 0;

function nextTs(): string {
  count += 1;
  return `${Math.floor(Date.now() / 1000)}.${String(count).padStart(6, '0')}`;
}

const ANSWERS = new Map<string, (args: URLSearchParams) => Readonly<Record<string, unknown>>>([
  ['auth.test', () => ({ team_id: 'T0FERN', user_id: 'U0BOT', bot_id: 'B0BOT' })],
  ['chat.postMessage', (args) => ({ channel: args.get('channel'), ts: nextTs() })],
  ['chat.postEphemeral', () => ({ message_ts: nextTs() })],
  ['chat.update', (args) => ({ channel: args.get('channel'), ts: args.get('ts') })],
  ['conversations.open', (args) => ({ channel: { id: `D${args.get('users')}` } })],
  ['conversations.replies', () => ({ messages: [] })],
  ['conversations.history', () => ({ messages: [] })],
]);

const server = createServer((request, response) => {
  const chunks: Buffer[] = [];
  request.on('data', (chunk: Buffer) => chunks.push(chunk));
  request.on('end', () => {
    const method = (request.url ?? '').replace('/api/', '');
    const args = new URLSearchParams(Buffer.concat(chunks).toString());
    const answer = { ok: true, ...ANSWERS.get(method)?.(args) };
    response.writeHead(200, { 'content-type': 'application/json' }).end(JSON.stringify(answer));
  });
});

server.listen(0, '127.0.0.1', () => {
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  process.send?.({ ready: `http://127.0.0.1:${port}/api/` });
});
