import { type WebSocket, WebSocketServer } from 'ws';

export type Ack = { readonly envelope_id: string; readonly payload?: Readonly<Record<string, unknown>> };

export type SocketServer = {
  readonly url: string;
  readonly acks: Ack[];
  /** How many times somebody connected. */
  readonly connections: number;
  connected(): Promise<void>;
  send(envelope: Readonly<Record<string, unknown>>): void;
  /** Asks the bot to connect anew, as Slack does when it moves a connection. */
  refresh(): void;
  /** Cuts the connection without a word. */
  cut(): void;
  stop(): Promise<void>;
};

/** Speaks Socket Mode's envelope protocol on this machine. */
export async function startSocketServer(): Promise<SocketServer> {
  const server = new WebSocketServer({ port: 0, host: '127.0.0.1' });
  await new Promise((resolve) => server.once('listening', resolve));
  const acks: Ack[] = [];
  let current: WebSocket | undefined;
  let connections = 0;
  server.on('connection', (socket) => {
    current = socket;
    connections += 1;
    socket.on('message', (data) => acks.push(JSON.parse(String(data))));
    socket.send(JSON.stringify({ type: 'hello', num_connections: 1, debug_info: {}, connection_info: {} }));
  });
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  return {
    url: `ws://127.0.0.1:${port}/link`,
    acks,
    get connections() {
      return connections;
    },
    async connected() {
      const before = connections;
      while (connections === 0 || (before > 0 && current?.readyState !== 1))
        await new Promise((resolve) => setTimeout(resolve, 10));
    },
    send: (envelope) => current?.send(JSON.stringify(envelope)),
    refresh() {
      current?.send(JSON.stringify({ type: 'disconnect', reason: 'refresh_requested' }));
    },
    cut: () => current?.terminate(),
    stop: () =>
      new Promise((resolve) => {
        for (const client of server.clients) client.terminate();
        server.close(() => resolve());
      }),
  };
}
