import { randomUUID } from 'node:crypto';
import { once } from 'node:events';
import { type WebSocket, WebSocketServer } from 'ws';
import { z } from 'zod';
import {
  type BotRequest,
  noAnswer,
  type Outcome,
  type RetryReason,
  type Transport,
} from '../../src/local/deliver/transport.js';

const Ack = z.looseObject({ envelope_id: z.string(), payload: z.unknown().optional() });

const kinds = { event: 'events_api', command: 'slash_commands', interactive: 'interactive' } as const;

/** Slack's side of Socket Mode, as a way for a workspace to reach the bot: give it as `transport`. */
export type SocketModeServer = Transport & {
  readonly socketUrl: () => string;
  /** Open connections. */
  readonly connections: () => number;
  /** Says that the connections will go away, as Slack does before it closes them. */
  readonly disconnect: (reason: 'warning' | 'refresh_requested' | 'link_disabled') => void;
  /** Breaks every connection without a word. */
  readonly cut: () => void;
  readonly close: () => Promise<void>;
};

export async function startSocketMode(): Promise<SocketModeServer> {
  const server = new WebSocketServer({ host: '127.0.0.1', port: 0 });
  await once(server, 'listening');
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('the socket server does not listen');
  const tickets = new Set<string>();
  const open = new Set<WebSocket>();
  const waiting = new Map<string, (outcome: Outcome) => void>();

  server.on('connection', (socket, request) => {
    const ticket = new URL(request.url ?? '/', 'ws://127.0.0.1').searchParams.get('ticket') ?? '';
    // A link opens one connection.
    if (!tickets.delete(ticket)) return socket.close(1008);
    open.add(socket);
    socket.on('close', () => open.delete(socket));
    socket.on('error', () => undefined);
    socket.on('message', (data) => {
      const ack = Ack.safeParse(JSON.parse(String(data))).data;
      if (ack === undefined) return;
      waiting.get(ack.envelope_id)?.({
        status: 200,
        body: ack.payload === undefined ? '' : JSON.stringify(ack.payload),
        contentType: 'application/json',
        noRetry: false,
        failure: null,
      });
    });
    const hello = { type: 'hello', num_connections: open.size, connection_info: { app_id: 'ATALLYSPOON' } };
    socket.send(JSON.stringify({ ...hello, debug_info: { approximate_connection_time: 3_600 } }));
  });

  const send = (request: BotRequest, timeoutMs: number): Promise<Outcome> => {
    const [socket] = open;
    if (socket === undefined) return Promise.resolve(noAnswer('connection_failed'));
    const envelope = randomUUID();
    return new Promise((resolve) => {
      const settle = (outcome: Outcome): void => {
        clearTimeout(timer);
        socket.off('close', lost);
        waiting.delete(envelope);
        resolve(outcome);
      };
      const fail = (reason: RetryReason) => settle(noAnswer(reason));
      const lost = (): void => fail('connection_failed');
      const timer = setTimeout(() => fail('http_timeout'), timeoutMs);
      socket.once('close', lost);
      waiting.set(envelope, settle);
      socket.send(
        JSON.stringify({
          envelope_id: envelope,
          type: kinds[request.kind],
          payload: request.body,
          accepts_response_payload: request.kind !== 'event',
          ...(request.kind === 'event'
            ? { retry_attempt: request.retry?.num ?? 0, retry_reason: request.retry?.reason ?? '' }
            : {}),
        }),
      );
    });
  };

  return {
    send,
    socketUrl: () => {
      const ticket = randomUUID();
      tickets.add(ticket);
      return `ws://127.0.0.1:${address.port}/link/?ticket=${ticket}`;
    },
    connections: () => open.size,
    disconnect: (reason) => {
      for (const socket of open) {
        socket.send(JSON.stringify({ type: 'disconnect', reason, debug_info: { host: 'local' } }));
      }
    },
    cut: () => {
      for (const socket of open) socket.terminate();
    },
    close: async () => {
      for (const socket of open) socket.terminate();
      server.close();
      await once(server, 'close');
    },
  };
}
