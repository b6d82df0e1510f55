import { CHANNEL, HOST, TASTERS, WORDS, WORKSPACE } from './parts.js';

export type Request = {
  readonly type: 'application/json' | 'application/x-www-form-urlencoded';
  readonly body: string;
};
export type MakeRequest = () => Request;
export type Thread = { readonly key: string; readonly ts: string };
export type Asked = { readonly note: number; readonly person: string; readonly cups: readonly number[] };

const FORM = 'application/x-www-form-urlencoded';
let made = 0;

function next(): number {
  made += 1;
  return made;
}

function pick<T>(from: readonly T[], index: number): T {
  const found = from[index % from.length];
  if (found === undefined) throw new Error('nothing to pick from');
  return found;
}

/** `/spoon` alone: what is next for this person. */
export function commands(): MakeRequest {
  return () => ({ type: FORM, body: commandBody('', HOST) });
}

function commandBody(text: string, person: string): string {
  return new URLSearchParams({
    team_id: WORKSPACE,
    channel_id: CHANNEL,
    user_id: person,
    command: '/spoon',
    text,
    trigger_id: `${Date.now()}.${next()}`,
  }).toString();
}

/** A taster's reply under a card, spread over all tables and people. */
export function notes(threads: readonly Thread[], kind: 'cup' | 'table' = 'cup'): MakeRequest {
  const under = threads.filter(({ key }) => key.startsWith(`${kind}:`));
  return () => {
    const turn = next();
    const thread = pick(under, turn * 7);
    const event = {
      type: 'message',
      channel: CHANNEL,
      channel_type: 'channel',
      user: pick(TASTERS, turn),
      text: pick(WORDS, turn),
      ts: `${Math.floor(Date.now() / 1000)}.${String(turn).padStart(6, '0')}`,
      thread_ts: thread.ts,
    };
    const body = {
      type: 'event_callback',
      team_id: WORKSPACE,
      api_app_id: 'A0',
      event_id: `Ev${process.pid}x${turn}`,
      event_time: Math.floor(Date.now() / 1000),
      authorizations: [{ team_id: WORKSPACE, user_id: 'U0BOT', is_bot: true }],
      event,
    };
    return { type: 'application/json', body: JSON.stringify(body) };
  };
}

/** The button under "Which cup was that?": it stores the choice and has the note read again. */
export function taps(asked: readonly Asked[]): MakeRequest {
  return () => {
    const turn = next();
    const { note, person, cups } = pick(asked, turn);
    const cup = pick(cups, Math.floor(turn / asked.length));
    const payload = {
      type: 'block_actions',
      team: { id: WORKSPACE },
      user: { id: person },
      trigger_id: `${Date.now()}.${turn}`,
      channel: { id: CHANNEL },
      container: { type: 'message', message_ts: '1.000001', channel_id: CHANNEL },
      message: { ts: '1.000001' },
      actions: [{ type: 'button', action_id: 'note.cup#0', value: JSON.stringify({ note, cup }) }],
    };
    return { type: FORM, body: new URLSearchParams({ payload: JSON.stringify(payload) }).toString() };
  };
}
