import { z } from 'zod';
import {
  CallList,
  ClockAnswer,
  CommandAnswer,
  DeliveryList,
  DirectChannel,
  HomeTab,
  MessageList,
  OpenViews,
  Refusal,
  SayAnswer,
  SettledAnswer,
  SubmitAnswer,
  TapAnswer,
  UnreadList,
  WorkspaceState,
} from './api-types.js';

/** Speaks the workspace's JSON API as any script would, and checks every answer against its schema. */
export function personClient(url: string) {
  const ask = async <T extends z.ZodType>(path: string, schema: T, body?: unknown): Promise<z.output<T>> => {
    const response = await fetch(url + path, request(body));
    const answer: unknown = await response.json();
    if (!response.ok) throw new Error(`${path}: ${response.status} ${JSON.stringify(answer)}`);
    return schema.parse(answer);
  };
  return {
    state: () => ask('/local/state', WorkspaceState),
    messages: async (as: string, channel: string, thread?: string, all = false) =>
      (
        await ask(
          `/local/messages?${query({ as, channel, thread, all: all ? '1' : undefined })}`,
          MessageList,
        )
      ).messages,
    dm: async (as: string) => (await ask(`/local/dm?as=${as}`, DirectChannel)).channel,
    views: (as: string) => ask(`/local/views?as=${as}`, OpenViews),
    unread: async (as: string) => (await ask(`/local/unread?as=${as}`, UnreadList)).channels,
    home: async (as: string) => (await ask(`/local/home?as=${as}`, HomeTab)).view,
    say: async (body: Body) => (await ask('/local/say', SayAnswer, body)).ts,
    command: (body: Body) => ask('/local/command', CommandAnswer, body),
    tap: (body: Body) => ask('/local/tap', TapAnswer, body),
    submit: (body: Body) => ask('/local/submit', SubmitAnswer, body),
    shortcut: (body: Body) => ask('/local/shortcut', TapAnswer, body),
    clock: (body: Body) => ask('/local/clock', ClockAnswer, body),
    settled: async (body: Body = {}) => (await ask('/local/settled', SettledAnswer, body)).settled,
    deliveries: async (since = 0) => (await ask(`/local/deliveries?since=${since}`, DeliveryList)).deliveries,
    calls: async (since = 0) => (await ask(`/local/calls?since=${since}`, CallList)).calls,
    faults: (...rules: readonly Body[]) => ask('/local/faults', z.unknown(), { seed: 1, rules }),
    clearFaults: async () => {
      await fetch(`${url}/local/faults`, { method: 'DELETE' });
    },
    /** Any other request that changes something. */
    post: (path: string, body: Body) => ask(`/local/${path}`, z.looseObject({}), body),
    /** A request that must be refused: its status and code. */
    refused: async (path: string, body?: unknown) => {
      const response = await fetch(url + path, request(body));
      const { error } = Refusal.parse(await response.json());
      return { status: response.status, error };
    },
  };
}

type Body = Readonly<Record<string, unknown>>;

function request(body: unknown): RequestInit {
  if (body === undefined) return {};
  return { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
}

function query(fields: Readonly<Record<string, string | undefined>>): URLSearchParams {
  const params = new URLSearchParams();
  for (const [key, value] of Object.entries(fields)) if (value !== undefined) params.set(key, value);
  return params;
}
