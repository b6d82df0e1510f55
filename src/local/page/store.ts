import type { ConfirmationDialog } from '@slack/types';
import { type Route, readRoute } from './route.js';
import type { PageMessage, PageView, PageViews, Person, Picked, WorkspaceState } from './wire.js';

/** All the page knows. Drawing is a function of this and nothing else. */
export interface PageState {
  readonly route: Route;
  readonly workspace: WorkspaceState | null;
  /** Workspace time minus this device's time, in milliseconds. */
  readonly offsetMs: number;
  /** Messages by place (see placeKey). */
  readonly messages: ReadonlyMap<string, readonly PageMessage[]>;
  readonly unread: ReadonlyMap<string, number>;
  readonly views: PageViews;
  readonly home: PageView | null;
  /** What is typed into forms, by fieldKey. */
  readonly typed: ReadonlyMap<string, Picked>;
  /** Half-written messages by place. */
  readonly drafts: ReadonlyMap<string, string>;
  /** Files that go along with them. */
  readonly attached: ReadonlyMap<string, readonly File[]>;
  readonly editing: string | null;
  readonly menu: string | null;
  readonly confirm: { readonly ask: ConfirmationDialog; readonly go: () => void } | null;
  readonly picture: { readonly url: string; readonly alt: string } | null;
  readonly clockOpen: boolean;
  /** Show what a notification reads aloud under each message. */
  readonly spoken: boolean;
  readonly trouble: string | null;
  /** Elements that wait for the bot's answer, by fieldKey. */
  readonly busy: ReadonlySet<string>;
  readonly connected: boolean;
  readonly announcement: string;
}

export const NO_VIEWS: PageViews = { stack: [], errors: null, notice: null };

let state: PageState = {
  route: readRoute(location.hash),
  workspace: null,
  offsetMs: 0,
  messages: new Map(),
  unread: new Map(),
  views: NO_VIEWS,
  home: null,
  typed: new Map(),
  drafts: new Map(),
  attached: new Map(),
  editing: null,
  menu: null,
  confirm: null,
  picture: null,
  clockOpen: false,
  spoken: false,
  trouble: null,
  busy: new Set(),
  connected: true,
  announcement: '',
};

let draw: (state: PageState) => void = () => undefined;
let waiting = false;

export function getState(): PageState {
  return state;
}

/** Changes what the page knows; drawing follows, once for all changes of this turn. */
export function update(change: Partial<PageState>): void {
  state = { ...state, ...change };
  if (waiting) return;
  waiting = true;
  queueMicrotask(() => {
    waiting = false;
    draw(state);
  });
}

export function onChange(listener: (state: PageState) => void): void {
  draw = listener;
}

/** A copy of a map with one entry set. */
export function withEntry<K, V>(map: ReadonlyMap<K, V>, key: K, value: V): ReadonlyMap<K, V> {
  return new Map(map).set(key, value);
}

export function placeKey(channel: string, thread: string | null): string {
  return thread === null ? channel : `${channel}/${thread}`;
}

export function fieldKey(scope: string, blockId: string, actionId: string): string {
  return `${scope}\n${blockId}\n${actionId}`;
}

/** The person the page acts as. */
export function me(): Person | null {
  const { workspace, route } = state;
  return workspace?.people.find(({ name, isBot }) => name === route.handle && !isBot) ?? null;
}

/** What the bot is called where people read it. */
export function botName(): string {
  return state.workspace === null ? 'The bot' : nameOf(state.workspace.bot.userId);
}

/** What somebody is called: person or bot. */
export function nameOf(id: string | null): string {
  const person = state.workspace?.people.find((one) => one.id === id);
  if (person !== undefined) return person.realName;
  const bot = state.workspace?.bot;
  return bot?.userId === id ? (bot?.name ?? '') : 'Someone who left';
}

/** The workspace's time now. */
export function workspaceNow(): Date {
  return new Date(Date.now() + state.offsetMs);
}

/** The zone the page shows times in: the person's own. */
export function zone(): string {
  return me()?.tz ?? 'UTC';
}

/** One kind sentence about a bot that did not do what was asked. */
export function botTrouble(error: string | undefined): string {
  const reason =
    error === 'operation_timeout'
      ? 'did not answer within three seconds'
      : `could not do that${error === undefined ? '' : ` (${error})`}`;
  return `${botName()} ${reason}. What you typed is kept; please try again in a moment.`;
}
