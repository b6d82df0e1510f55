import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { WebClient } from '@slack/web-api';
import { z } from 'zod';
import { card, closerLook, everyElement } from './puppet-forms.js';

const Payload = z.looseObject({
  type: z.string(),
  trigger_id: z.string().optional(),
  user: z.looseObject({ id: z.string() }),
  channel: z.looseObject({ id: z.string() }).optional(),
  message: z.looseObject({ ts: z.string() }).optional(),
  actions: z.array(z.looseObject({ action_id: z.string() })).optional(),
  view: z.looseObject({ state: z.looseObject({ values: z.record(z.string(), z.json()) }) }).optional(),
});
type Payload = z.infer<typeof Payload>;

const Event = z.looseObject({
  event: z
    .looseObject({ type: z.string(), user: z.string().optional(), tab: z.string().optional() })
    .optional(),
});

/** A bot on strings: it does one known thing for each thing a test does to it, and keeps what it was sent. */
export interface Puppet {
  readonly url: string;
  readonly submitted: readonly unknown[];
  close(): Promise<void>;
}

export async function startPuppet(apiUrl: string, token: string): Promise<Puppet> {
  const client = new WebClient(token, { slackApiUrl: apiUrl, retryConfig: { retries: 0 } });
  const submitted: unknown[] = [];
  const server = createServer((request, response) => {
    void answer(client, submitted, request, response);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    url: `http://127.0.0.1:${portOf(server.address())}/slack/events`,
    submitted,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

function portOf(address: string | AddressInfo | null): number {
  if (address === null || typeof address === 'string') throw new Error('the puppet has no port');
  return address.port;
}

async function answer(
  client: WebClient,
  submitted: unknown[],
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const chunks: Buffer[] = [];
  for await (const chunk of request) chunks.push(Buffer.from(chunk));
  const body = Buffer.concat(chunks).toString('utf8');
  const form = new URLSearchParams(body);
  const payload = form.get('payload');
  const text = form.get('text');
  let reply: object | null = null;
  if (payload !== null) reply = await onInteraction(client, submitted, Payload.parse(JSON.parse(payload)));
  else if (text !== null) {
    if (text === 'sleep') return;
    reply = await onCommand(client, text, form.get('channel_id') ?? '', form.get('trigger_id') ?? '');
  } else await onEvent(client, body);
  response.writeHead(200, reply === null ? {} : { 'content-type': 'application/json' });
  response.end(reply === null ? '' : JSON.stringify(reply));
}

async function onCommand(
  client: WebClient,
  text: string,
  channel: string,
  triggerId: string,
): Promise<object | null> {
  if (text === 'form') {
    await client.views.open({ trigger_id: triggerId, view: everyElement });
    return null;
  }
  if (text === 'card') {
    await client.chat.postMessage({ channel, text: 'T1, Harbour Lamp, friday', blocks: card });
    return null;
  }
  return { response_type: 'ephemeral', text: `Nothing is called *${text}*; try /spoon card.` };
}

async function onEvent(client: WebClient, body: string): Promise<void> {
  const { event } = Event.parse(JSON.parse(body));
  if (event?.type !== 'app_home_opened' || event.tab !== 'home' || event.user === undefined) return;
  await client.views.publish({
    user_id: event.user,
    view: {
      type: 'home',
      blocks: [{ type: 'header', text: { type: 'plain_text', text: 'What is next' } }],
    },
  });
}

async function onInteraction(
  client: WebClient,
  submitted: unknown[],
  payload: Payload,
): Promise<object | null> {
  switch (payload.type) {
    case 'view_submission':
      submitted.push(payload.view?.state.values);
      return submitted.length === 1
        ? { response_action: 'errors', errors: { ratios: 'Type 40/40/20 for parts.' } }
        : null;
    case 'block_actions':
      await onTap(client, payload);
      return null;
    default:
      return null;
  }
}

async function onTap(client: WebClient, payload: Payload): Promise<void> {
  const action = payload.actions?.[0]?.action_id;
  if (action === 'push') await client.views.push({ trigger_id: payload.trigger_id ?? '', view: closerLook });
  const { channel, message } = payload;
  if (channel === undefined || message === undefined) return;
  const done = action === 'accept' ? 'Accepted by' : 'Cancelled by';
  const text = `${done} <@${payload.user.id}>`;
  await client.chat.update({
    channel: channel.id,
    ts: message.ts,
    text,
    blocks: [{ type: 'section', text: { type: 'mrkdwn', text } }],
  });
}
