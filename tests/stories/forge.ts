import { createHmac } from 'node:crypto';
import { sql } from 'kysely';
import type { StoryHouse } from './start-house.js';

/*
 * Requests that no Slack client would send, rightly signed: the tap or form of somebody who was never shown
 * it. They go straight to the bot's door; what the bot does is seen in its calls and in its database.
 */

type Values = Readonly<Record<string, string | readonly string[]>>;

/** What came of it. */
export type Forged = {
  readonly status: number;
  /** The reply in the response, and what this person alone was shown. */
  readonly heard: string;
  /** What anybody else could have seen. */
  readonly loud: readonly string[];
  readonly opened: boolean;
  readonly changed: boolean;
};

/** Taps and submits as anyone, with any ids. */
export function forger(house: StoryHouse) {
  let count = 0;

  async function send(fields: Readonly<Record<string, string>>): Promise<{ status: number; text: string }> {
    const { signingSecret } = house.workspace;
    count += 1;
    const body = new URLSearchParams({ ...fields, nonce: String(count) }).toString();
    const at = String(Math.floor(Date.now() / 1000));
    const signature = createHmac('sha256', signingSecret).update(`v0:${at}:${body}`).digest('hex');
    const response = await fetch(house.bot.url ?? '', {
      method: 'POST',
      body,
      headers: {
        'content-type': 'application/x-www-form-urlencoded',
        'x-slack-request-timestamp': at,
        'x-slack-signature': `v0=${signature}`,
      },
    });
    return { status: response.status, text: await response.text() };
  }

  /** Several people do the same at once; what each heard is told apart, what changed is not. */
  async function seen(
    names: readonly string[],
    fieldsFor: (name: string) => Readonly<Record<string, string>>,
  ): Promise<readonly Forged[]> {
    const before = (await house.client.calls()).length;
    const rows = await tradeRows(house);
    const answers = await Promise.all(names.map((name) => send(fieldsFor(name))));
    await house.settle();
    const calls = (await house.client.calls()).slice(before);
    const changed = rows !== (await tradeRows(house));
    const loud = calls
      .filter(({ method }) => /^chat\.(postMessage|update|delete)|^reactions|^files/.test(method))
      .map(({ method, args }) => `${method} ${JSON.stringify(args).slice(0, 160)}`);
    return answers.map(({ status, text }, index) => {
      const person = house.id(names[index] ?? '');
      const own = calls.filter(
        ({ method, args }) => method === 'chat.postEphemeral' && args['user'] === person,
      );
      return {
        status,
        heard: [text, ...own.map(({ args }) => String(args['text']))].join('\n'),
        loud,
        opened: calls.some(({ method }) => method === 'views.open'),
        changed,
      };
    });
  }

  const common = (name: string) => ({
    team: { id: house.bot.workspace, domain: 'fernhollow' },
    user: { id: house.id(name), username: name, team_id: house.bot.workspace },
    trigger_id: `${Date.now()}.forged.${count}`,
  });

  return {
    send,
    tap: (
      names: readonly string[],
      action: string,
      value: unknown,
      more: Readonly<Record<string, unknown>> = {},
    ) =>
      seen(names, (name) => ({
        payload: JSON.stringify({
          ...common(name),
          type: 'block_actions',
          channel: { id: house.channel, name: 'tasting-table' },
          container: { type: 'message', message_ts: '1.000001', channel_id: house.channel },
          message: { ts: '1.000001', text: 'an old card' },
          actions: [
            {
              type: 'button',
              action_id: action,
              block_id: 'b',
              value: typeof value === 'string' ? value : JSON.stringify(value),
            },
          ],
          ...more,
        }),
      })),
    submit: (names: readonly string[], callback: string, state: unknown, values: Values = {}) =>
      seen(names, (name) => ({
        payload: JSON.stringify({
          ...common(name),
          type: 'view_submission',
          view: {
            id: 'VFORGED',
            type: 'modal',
            callback_id: callback,
            private_metadata: typeof state === 'string' ? state : JSON.stringify(state),
            blocks: Object.keys(values).map((block) => ({ type: 'input', block_id: block })),
            state: {
              values: Object.fromEntries(
                Object.entries(values).map(([block, value]) => [block, { input: asState(value) }]),
              ),
            },
          },
        }),
      })),
    type: (names: readonly string[], text: string) =>
      seen(names, (name) => ({
        team_id: house.bot.workspace,
        channel_id: house.channel,
        user_id: house.id(name),
        command: '/spoon',
        text,
        trigger_id: `${Date.now()}.forged.${count}`,
      })),
  };
}

function asState(value: string | readonly string[]): unknown {
  return typeof value === 'string'
    ? { type: 'plain_text_input', value }
    : { type: 'checkboxes', selected_options: value.map((one) => ({ value: one })) };
}

/** Everything the trade knows, as text: two snapshots differ when anything of it was changed. */
export async function tradeRows(house: StoryHouse): Promise<string> {
  const { db } = house.bot.deps;
  const { rows: tables } = await sql<{ name: string }>`select name from sqlite_master where type = 'table'
    and name not like 'sqlite%' and name not like 'kysely%'
    and name not in ('inbox', 'notice', 'changed', 'picture', 'gone_message') order by name`.execute(db);
  const held = [];
  for (const { name } of tables) {
    const { rows } = await sql`select * from ${sql.table(name)} order by rowid`
      .execute(db)
      .catch(() => sql`select * from ${sql.table(name)}`.execute(db));
    held.push([name, rows]);
  }
  return JSON.stringify(held);
}
