import { createServer, type IncomingHttpHeaders } from 'node:http';
import { setTimeout as sleep } from 'node:timers/promises';
import { onTestFinished } from 'vitest';
import { z } from 'zod';
import { JsonObject } from '../../src/local/api-types.js';
import type { Workspace } from '../../src/local/workspace.js';

export type Received = {
  readonly headers: IncomingHttpHeaders;
  /** The exact text of the body. */
  readonly raw: string;
  /** The decoded body: an event's envelope, a command's fields, or an interaction's payload. */
  readonly body: JsonObject;
};

export type BotAnswer = {
  readonly status?: number;
  readonly body?: unknown;
  readonly headers?: Readonly<Record<string, string>>;
  readonly afterMs?: number;
};

/** The least bot there can be: keeps what it is sent and answers what the test says. */
export async function startRecorder(
  workspace: Workspace,
  answer: (received: Received) => BotAnswer | Promise<BotAnswer> = () => ({}),
) {
  const received: Received[] = [];
  const server = createServer(async (request, response) => {
    const chunks: Buffer[] = [];
    for await (const chunk of request) chunks.push(Buffer.from(chunk));
    const raw = Buffer.concat(chunks).toString('utf8');
    const one = { headers: request.headers, raw, body: decoded(request.headers['content-type'] ?? '', raw) };
    if (one.body['type'] === 'url_verification') {
      response.writeHead(200, { 'content-type': 'application/json' });
      response.end(JSON.stringify({ challenge: one.body['challenge'] }));
      return;
    }
    received.push(one);
    const { status = 200, body, headers = {}, afterMs = 0 } = await answer(one);
    await sleep(afterMs);
    const isText = body === undefined || typeof body === 'string';
    response.writeHead(status, { ...(isText ? {} : { 'content-type': 'application/json' }), ...headers });
    response.end(isText ? body : JSON.stringify(body));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  onTestFinished(() => {
    server.close();
    server.closeAllConnections();
  });
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('the recorder does not listen');
  workspace.connectBot(`http://127.0.0.1:${address.port}/slack/events`);
  return {
    received,
    /** The inner events so far. */
    events: (): JsonObject[] =>
      received
        .map((one) => JsonObject.safeParse(one.body['event']).data)
        .filter((event) => event !== undefined),
  };
}

function decoded(contentType: string, raw: string): JsonObject {
  if (contentType.startsWith('application/json')) return JsonObject.parse(JSON.parse(raw));
  const fields = z.record(z.string(), z.string()).parse(Object.fromEntries(new URLSearchParams(raw)));
  return fields['payload'] === undefined ? fields : JsonObject.parse(JSON.parse(fields['payload']));
}
