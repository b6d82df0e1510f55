import { createHmac } from 'node:crypto';
import { createServer, type IncomingMessage } from 'node:http';

/*
 * As little of Slack as the Slack layer's own tests need: it keeps what was posted, answers what the bot
 * calls, and can be told to fail. Whole stories run against the local workspace instead.
 */

export const SIGNING_SECRET = 'a-signing-secret-of-the-tests';
export const TEAM = 'T0FERN';
export const BOT_USER = 'U0BOT';

export type Call = { readonly method: string; readonly args: Readonly<Record<string, string>> };
export type Reply =
  | Readonly<Record<string, unknown>>
  | {
      readonly status: number;
      readonly headers?: Readonly<Record<string, string>>;
      readonly body?: string;
      /** Cut the connection instead of answering. */
      readonly cut?: boolean;
    };
type Message = {
  readonly ts: string;
  text: string;
  blocks: string;
  readonly thread_ts?: string;
  readonly channel: string;
  readonly metadata?: unknown;
  readonly files?: readonly { readonly id: string }[];
  deleted?: boolean;
};

export type FakeSlack = {
  readonly apiUrl: string;
  readonly calls: Call[];
  readonly messages: Message[];
  /** What to answer instead; null leaves it to the fake. Called after the fake did its part when `after`. */
  fail: ((call: Call) => Reply | null) | null;
  /** As `fail`, but Slack has done what was asked before it fails to say so. */
  failAfter: ((call: Call) => Reply | null) | null;
  callsOf(method: string): readonly Call[];
  stop(): Promise<void>;
};

export async function startFakeSlack(): Promise<FakeSlack> {
  let tick = 0;
  const calls: Call[] = [];
  const messages: Message[] = [];
  const start = Math.floor(Date.now() / 1000);
  const next = () => {
    tick += 1;
    return tick;
  };
  const nextTs = () => `${start}.${String(next()).padStart(6, '0')}`;
  const answers = new Map<string, (args: Record<string, string>) => Reply>([
    ['auth.test', () => ({ ok: true, team_id: TEAM, user_id: BOT_USER, bot_id: 'B0BOT' })],
    ['chat.postEphemeral', () => ({ ok: true, message_ts: nextTs() })],
    ['conversations.open', (args) => ({ ok: true, channel: { id: `D${args['users']}` } })],
    [
      'chat.postMessage',
      (args) => {
        const ts = nextTs();
        messages.push({
          ts,
          channel: args['channel'] ?? '',
          text: args['text'] ?? '',
          blocks: args['blocks'] ?? '[]',
          ...(args['thread_ts'] ? { thread_ts: args['thread_ts'] } : {}),
          ...(args['metadata'] ? { metadata: JSON.parse(args['metadata']) } : {}),
        });
        return { ok: true, channel: args['channel'], ts, message: { ts } };
      },
    ],
    [
      'chat.update',
      (args) => {
        const message = messages.find((one) => one.ts === args['ts'] && !one.deleted);
        if (!message) return { ok: false, error: 'message_not_found' };
        message.text = args['text'] ?? '';
        message.blocks = args['blocks'] ?? '[]';
        return { ok: true, channel: args['channel'], ts: args['ts'] };
      },
    ],
    [
      'chat.delete',
      (args) => {
        const message = messages.find((one) => one.ts === args['ts'] && !one.deleted);
        if (!message) return { ok: false, error: 'message_not_found' };
        message.deleted = true;
        return { ok: true };
      },
    ],
    ['conversations.history', (args) => history(args['channel'], undefined)],
    ['conversations.replies', (args) => history(args['channel'], args['ts'])],
    ['views.open', () => ({ ok: true, view: { id: `V${next()}` } })],
    ['views.push', () => ({ ok: true, view: { id: `V${next()}` } })],
    [
      'files.getUploadURLExternal',
      () => {
        const id = `F${next()}`;
        return { ok: true, upload_url: `${url}/upload/${id}`, file_id: id };
      },
    ],
    [
      'files.completeUploadExternal',
      (args) => {
        const files = JSON.parse(args['files'] ?? '[]');
        if (args['channel_id'])
          messages.push({ ts: nextTs(), channel: args['channel_id'], text: '', blocks: '[]', files });
        return { ok: true, files };
      },
    ],
  ]);

  function history(channel: string | undefined, threadTs: string | undefined): Reply {
    const found = messages.filter(
      (one) =>
        one.channel === channel &&
        !one.deleted &&
        (threadTs === undefined
          ? one.thread_ts === undefined
          : one.thread_ts === threadTs || one.ts === threadTs),
    );
    return { ok: true, messages: found.map((one) => ({ ...one, user: BOT_USER })) };
  }

  const server = createServer(async (request, response) => {
    const body = await readAll(request);
    const method = (request.url ?? '').split('?')[0]?.replace('/api/', '') ?? '';
    if (method.startsWith('/upload/')) {
      calls.push({ method: 'upload', args: { bytes: String(body.length) } });
      response.writeHead(200).end('OK');
      return;
    }
    const call = { method, args: Object.fromEntries(new URLSearchParams(body)) };
    calls.push(call);
    const early = fake.fail?.(call) ?? null;
    const made = early ?? (answers.get(method) ?? (() => ({ ok: true })))({ ...call.args });
    const reply = early ?? fake.failAfter?.(call) ?? made;
    if ('cut' in reply && reply.cut === true) {
      request.socket.destroy();
      return;
    }
    if ('status' in reply && typeof reply.status === 'number') {
      const headers = 'headers' in reply ? JSON.parse(JSON.stringify(reply.headers ?? {})) : {};
      response.writeHead(reply.status, headers).end('body' in reply ? String(reply.body) : '');
      return;
    }
    response.writeHead(200, { 'content-type': 'application/json' }).end(JSON.stringify(reply));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  const url = `http://127.0.0.1:${port}`;
  const fake: FakeSlack = {
    apiUrl: `${url}/api/`,
    calls,
    messages,
    fail: null,
    failAfter: null,
    callsOf: (method) => calls.filter((call) => call.method === method),
    stop: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
  return fake;
}

async function readAll(request: IncomingMessage): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of request) chunks.push(Buffer.from(chunk));
  return Buffer.concat(chunks).toString();
}

export type Sent = { readonly status: number; readonly text: string };

/** Sends a body as Slack would: signed over its exact bytes. */
export async function sendSigned(
  url: string,
  body: string,
  type: string,
  options: { readonly at?: number; readonly headers?: Readonly<Record<string, string>> } = {},
): Promise<Sent> {
  const at = String(options.at ?? Math.floor(Date.now() / 1000));
  const signature = createHmac('sha256', SIGNING_SECRET).update(`v0:${at}:${body}`).digest('hex');
  const response = await fetch(url, {
    method: 'POST',
    body,
    headers: {
      'content-type': type,
      'x-slack-request-timestamp': at,
      'x-slack-signature': `v0=${signature}`,
      ...options.headers,
    },
  });
  return { status: response.status, text: await response.text() };
}

let unique = 0;
function uniqueId(): number {
  unique += 1;
  return unique;
}

export function sendEvent(
  url: string,
  event: Readonly<Record<string, unknown>>,
  eventId?: string,
): Promise<Sent> {
  const body = {
    type: 'event_callback',
    team_id: TEAM,
    api_app_id: 'A0',
    event_id: eventId ?? `Ev${uniqueId()}`,
    event_time: 1,
    authorizations: [{ team_id: TEAM, user_id: BOT_USER, is_bot: true }],
    event,
  };
  return sendSigned(url, JSON.stringify(body), 'application/json');
}

export function sendCommand(url: string, text: string, user = 'U1INES'): Promise<Sent> {
  const body = new URLSearchParams({
    team_id: TEAM,
    channel_id: 'C1',
    user_id: user,
    command: '/spoon',
    text,
    trigger_id: `${uniqueId()}.trigger`,
  });
  return sendSigned(url, body.toString(), 'application/x-www-form-urlencoded');
}

export function sendPayload(url: string, payload: unknown): Promise<Sent> {
  // Real payloads never repeat: without this, two equal ones in one second would be a replay.
  const body = new URLSearchParams({ payload: JSON.stringify(payload), nonce: String(uniqueId()) });
  return sendSigned(url, body.toString(), 'application/x-www-form-urlencoded');
}

export function tapPayload(more: Readonly<Record<string, unknown>> = {}): Record<string, unknown> {
  return {
    type: 'block_actions',
    team: { id: TEAM, domain: 'fernhollow' },
    user: { id: 'U1INES', username: 'ines', team_id: TEAM },
    trigger_id: `${uniqueId()}.trigger`,
    channel: { id: 'C1', name: 'tasting-table' },
    container: { type: 'message', message_ts: '1.000001', channel_id: 'C1' },
    message: { ts: '1.000001', text: 'card' },
    actions: [{ type: 'button', action_id: 'ask.accept#2', block_id: 'b', value: '{"ask":7}' }],
    ...more,
  };
}

export function submitPayload(view: Readonly<Record<string, unknown>> = {}): Record<string, unknown> {
  return {
    type: 'view_submission',
    team: { id: TEAM, domain: 'fernhollow' },
    user: { id: 'U1INES', username: 'ines', team_id: TEAM },
    trigger_id: `${uniqueId()}.trigger`,
    view: {
      id: 'V1',
      type: 'modal',
      callback_id: 'book',
      private_metadata: '{}',
      blocks: [{ type: 'input', block_id: 'when' }],
      state: { values: { when: { input: { type: 'plain_text_input', value: 'fri 14:00' } } } },
      ...view,
    },
  };
}
