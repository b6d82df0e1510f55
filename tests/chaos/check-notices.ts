import { isDeepStrictEqual } from 'node:util';
import { z } from 'zod';
import { createBot } from '../../src/app/create-bot.js';
import type { Notice } from '../../src/kit/notice.js';
import { createLog } from '../../src/runtime/log.js';
import { canonicalJson, hashOf, travellingKey } from '../../src/slack/out/stored-notice.js';
import { openDatabase } from '../../src/store/sqlite/open.js';
import { look } from './look.js';
import type { World } from './world.js';

const NoticeRow = z.object({
  key: z.string(),
  kind: z.string(),
  subject: z.string(),
  wanted_json: z.string(),
  wanted_hash: z.string(),
  shown_hash: z.string().nullable(),
  state: z.string(),
  channel: z.string().nullable(),
  ts: z.string().nullable(),
});
type NoticeRow = z.infer<typeof NoticeRow>;
const NOTICES =
  'select key, kind, subject, wanted_json, wanted_hash, shown_hash, state, channel, ts from notice';
const SUBJECTS = `select 'tasting:' || id as subject from tasting union select 'note:' || id from note
  union select 'ask:' || id from ask union select 'ask:tasting-' || id from tasting
  union select subject from notice`;

/** Every notice as the state wants it, shown exactly once, and nothing beside them. */
export async function checkNotices(world: World): Promise<readonly string[]> {
  const rows = look(world.database, NoticeRow, NOTICES);
  const messages = botMessages(world);
  const byKey = grouped(messages);
  const wrong: string[] = [];
  const wanted = await wantedNow(world);
  for (const notice of wanted) {
    const row = rows.find(({ key }) => key === notice.key);
    if (row) wrong.push(...checkStored(row, notice));
    else if (!isEmpty(notice)) wrong.push(`notice ${notice.key}: is wanted and not known`);
    wrong.push(...(await checkShown(world, notice, row, byKey)));
  }
  const keys = new Set(rows.map(({ key }) => travellingKey(world.workspace.teamId, key)));
  for (const { key, text } of messages)
    if (!keys.has(key)) wrong.push(`a message of the bot belongs to no notice: “${text.slice(0, 60)}”`);
  for (const row of rows) {
    if (row.state === 'stopped') wrong.push(`notice ${row.key}: was given up`);
    if (row.shown_hash !== row.wanted_hash) wrong.push(`notice ${row.key}: is not as it is wanted`);
  }
  return wrong;
}

function grouped(messages: readonly ShownMessage[]): Map<string, ShownMessage[]> {
  const groups = new Map<string, ShownMessage[]>();
  for (const message of messages) groups.set(message.key, [...(groups.get(message.key) ?? []), message]);
  return groups;
}

/** What the state wants, worked out here from the bot's own database. */
async function wantedNow(world: World): Promise<readonly Notice[]> {
  const subjects = look(world.database, z.object({ subject: z.string() }), SUBJECTS);
  const open = await openDatabase(world.database);
  const deps = { db: open.db, clock: world.workspace.clock, log: createLog('silent'), newSeed: () => 0 };
  const bot = createBot();
  const wanted: Notice[] = [];
  for (const { subject } of subjects)
    wanted.push(...(await bot.notices(deps, world.workspace.teamId, subject)));
  await open.close();
  return wanted;
}

/** What can be shown only once stays as it was shown; everything else follows the state. */
function checkStored(row: NoticeRow, notice: Notice): readonly string[] {
  if (notice.kind === 'private' || notice.kind === 'file') return [];
  const json = canonicalJson(notice);
  if (row.wanted_hash === hashOf(json)) return [];
  return [`notice ${notice.key}: the state wants ${difference(row.wanted_json, json)}`];
}

async function checkShown(
  world: World,
  notice: Notice,
  row: NoticeRow | undefined,
  byKey: ReadonlyMap<string, readonly ShownMessage[]>,
): Promise<readonly string[]> {
  const say = (what: string) => [`notice ${notice.key}: ${what}`];
  if (notice.kind === 'message') {
    const shown = byKey.get(travellingKey(world.workspace.teamId, notice.key)) ?? [];
    if (notice.message === null) return shown.length === 0 ? [] : say('still stands');
    if (shown.length !== 1) return say(`stands ${shown.length} times`);
    const [message] = shown;
    if (message && (message.ts !== row?.ts || message.channel !== row.channel))
      return say('stands elsewhere');
    return message ? checkMessage(message, notice).flatMap(say) : [];
  }
  if (notice.kind === 'reaction') {
    const found = botReactions(world, notice.channel, notice.ts).join();
    return found === (notice.name ?? '') ? [] : say(`the reaction is “${found}”, and not “${notice.name}”`);
  }
  if (notice.kind === 'home') {
    const blocks = await homeOf(world, notice.person);
    return isDeepStrictEqual(blocks, withoutIds(notice.view.blocks)) ? [] : say('the home tab differs');
  }
  return [];
}

/** The words and blocks, but for the block ids Slack gives and the picture, which is drawn. */
function checkMessage(
  message: ShownMessage,
  notice: Extract<Notice, { kind: 'message' }>,
): readonly string[] {
  const wrong: string[] = [];
  if (message.text !== notice.message?.text) wrong.push(`says “${message.text.slice(0, 80)}”`);
  const blocks = withoutIds(message.blocks);
  const wanted = withoutIds(notice.message?.blocks ?? []);
  const drawn = notice.picture ? blocks.slice(0, -1) : blocks;
  if (notice.picture && blocks.length !== wanted.length + 1) wrong.push('lacks its picture');
  else if (!isDeepStrictEqual(drawn, wanted))
    wrong.push(`its blocks differ: ${difference(canonicalJson(drawn), canonicalJson(wanted))}`);
  return wrong;
}

function withoutIds(blocks: readonly unknown[]): readonly z.core.util.JSONType[] {
  const json = JSON.stringify(blocks, (key, value: unknown) => (key === 'block_id' ? undefined : value));
  return z.array(z.json()).parse(JSON.parse(json));
}

function isEmpty(notice: Notice): boolean {
  return (
    (notice.kind === 'message' && notice.message === null) ||
    (notice.kind === 'reaction' && notice.name === null)
  );
}

/** Where two texts part ways. */
function difference(one: string, other: string): string {
  let at = 0;
  while (at < one.length && one[at] === other[at]) at += 1;
  const from = Math.max(0, at - 30);
  return `“…${other.slice(from, at + 60)}”, and not “…${one.slice(from, at + 60)}”`;
}

/* What stands in Slack, read from the workspace's own database. */

const json = <T extends z.ZodType>(schema: T) =>
  z
    .string()
    .transform((text): unknown => JSON.parse(text))
    .pipe(schema);
const Blocks = z.array(z.looseObject({ type: z.string() }));
const Metadata = z.object({
  event_type: z.string(),
  event_payload: z.object({ key: z.string() }),
});

const MessageRow = z
  .object({
    channel: z.string(),
    ts: z.string(),
    text: z.string(),
    blocks: json(Blocks),
    metadata: json(Metadata),
  })
  .transform(({ metadata, ...row }) => ({ ...row, key: metadata.event_payload.key }));

/** A message of the bot that carries a notice's key. */
type ShownMessage = z.output<typeof MessageRow>;

/** Every live message of the bot that is a notice. */
function botMessages(world: World): readonly ShownMessage[] {
  return look(
    world.slack,
    MessageRow,
    "select channel, ts, text, blocks, metadata from message where state = 'live' and metadata is not null",
  );
}

/** The bot's reactions on one message. */
function botReactions(world: World, channel: string, ts: string): readonly string[] {
  const sql = `select name from reaction join message using (channel, ts)
    where channel = ? and ts = ? and reaction.person = ? and state = 'live' order by name`;
  const found = look(
    world.slack,
    z.object({ name: z.string() }),
    sql,
    channel,
    ts,
    world.workspace.botUserId,
  );
  return found.map(({ name }) => name);
}

/** The blocks of a person's home tab, without the ids that Slack gives. */
async function homeOf(world: World, person: string): Promise<unknown> {
  const view = await world.client.home(person);
  const text = JSON.stringify(view?.blocks ?? [], (key, value: unknown) =>
    key === 'block_id' ? undefined : value,
  );
  return z.json().parse(JSON.parse(text));
}

const Row = z.object({
  key: z.string(),
  channel: z.string(),
  ts: z.string(),
  text: z.string().nullable(),
});
const SAID_TO_BE_SHOWN = `select key, channel, ts, json_extract(wanted_json, '$.message.text') as text from notice
  where kind = 'message' and state = 'kept' and shown_hash = wanted_hash and channel is not null and ts is not null`;
const LIVE = "select text from message where channel = ? and ts = ? and state = 'live'";

/** At each kill: a message that the bot has down as shown stands in Slack, with these words. */
export function checkShownSoFar(world: World, phase: number): readonly string[] {
  return look(world.database, Row, SAID_TO_BE_SHOWN).flatMap(({ key, channel, ts, text }) => {
    const [live] = look(world.slack, z.object({ text: z.string() }), LIVE, channel, ts);
    if (live?.text === (text ?? undefined)) return [];
    return [
      `life ${phase}: notice ${key} is down as shown and says “${(live?.text ?? 'nothing').slice(0, 80)}”`,
    ];
  });
}
