import Database from 'better-sqlite3';
import { z } from 'zod';
import { count, look } from './look.js';
import type { World } from './world.js';

/** Tables, asks, shelf and reminders as the script left them; nothing half done, nothing done twice. */
export function checkHouse(world: World): readonly string[] {
  return [
    ...checkWhole(world),
    ...checkInbox(world),
    ...checkTables(world),
    ...checkAsks(world),
    ...checkShelf(world),
    ...checkReminders(world),
  ];
}

function checkWhole(world: World): readonly string[] {
  const db = new Database(world.database, { readonly: true });
  const integrity = db.pragma('integrity_check', { simple: true });
  const orphans = z.array(z.unknown()).parse(db.pragma('foreign_key_check'));
  db.close();
  return [
    ...(integrity === 'ok' ? [] : [`integrity check: ${String(integrity)}`]),
    ...(orphans.length === 0 ? [] : [`foreign key check: ${JSON.stringify(orphans).slice(0, 200)}`]),
  ];
}

function checkInbox(world: World): readonly string[] {
  const left = look(
    world.database,
    z.object({ event_id: z.string(), state: z.string(), error: z.string().nullable() }),
    "select event_id, state, error from inbox where state <> 'done'",
  );
  const changed = count(world.database, 'select 1 from changed');
  return [
    ...left.map(({ event_id, state, error }) => `inbox: ${event_id} is ${state} (${error ?? 'no error'})`),
    ...(changed === 0 ? [] : [`${changed} changed subjects are not worked out`]),
  ];
}

const CHANGES_OF_T1 = ['booked', 'opened', 'closed', 'reopened', 'closed', 'decided'];

function checkTables(world: World): readonly string[] {
  const wrong: string[] = [];
  const states = look(
    world.database,
    z.object({ number: z.number(), state: z.string() }),
    'select number, state from tasting order by number, id',
  ).map(({ number, state }) => `T${number} ${state}`);
  if (!/^T1 decided, T2 cancelled, T3 (booked|ready)$/.test(states.join(', ')))
    wrong.push(`tables: ${states.join(', ')}`);
  const changes = look(
    world.database,
    z.object({ change: z.string() }),
    `select change from tasting_change join tasting on tasting.id = tasting_id where number = 1
      and change in ('booked', 'opened', 'closed', 'reopened', 'decided') order by tasting_change.id`,
  ).map(({ change }) => change);
  if (changes.join() !== CHANGES_OF_T1.join()) wrong.push(`T1 was ${changes.join(', ')}`);
  const pours = count(world.database, "select 1 from cup where kind = 'pour'");
  if (pours !== 1) wrong.push(`one cup was poured, and there are ${pours}`);
  if (count(world.database, 'select 1 from digest') !== 1) wrong.push('there is not exactly one digest');
  return wrong;
}

const AskChange = z.object({
  ask_id: z.number(),
  from_state: z.string().nullable(),
  to_state: z.string(),
  detail_json: z.string(),
  state: z.string(),
});

/** An ask's history is a chain from its beginning to its state, and each step happened once. */
function checkAsks(world: World): readonly string[] {
  const wrong: string[] = [];
  const changes = look(
    world.database,
    AskChange,
    `select ask_id, from_state, to_state, detail_json, state from ask_change join ask on ask.id = ask_id
      order by ask_id, ask_change.id`,
  );
  for (const id of new Set(changes.map(({ ask_id }) => ask_id))) {
    const own = changes.filter(({ ask_id }) => ask_id === id);
    let before: string | null = null;
    for (const { from_state: from, to_state: to } of own) {
      if (from !== before)
        wrong.push(`ask ${id}: went from ${from ?? 'nothing'} when it was ${before ?? 'nothing'}`);
      before = to;
    }
    if (before !== own[0]?.state)
      wrong.push(`ask ${id}: is ${own[0]?.state}, its history ends with ${before}`);
    const reminded = own
      .map(({ detail_json }) => detail_json)
      .filter((detail) => detail.includes('"reminded"'));
    if (new Set(reminded).size !== reminded.length) wrong.push(`ask ${id}: was reminded of twice`);
  }
  const roasts = count(world.database, 'select 1 from roast');
  const fromRoasts = count(world.database, 'select 1 from lot where roast_id is not null');
  if (roasts !== 1 || fromRoasts !== 1)
    wrong.push(`one roast was reported; there are ${roasts} roasts and ${fromRoasts} lots of them`);
  return wrong;
}

/** What was put on the shelf by the demo and the script: two lots of 600 g, the reported 238 g and 150 g. */
const SHELVED_MG = 600_000 + 600_000 + 238_000 + 150_000;
const LOTS = 4;

function checkShelf(world: World): readonly string[] {
  const wrong: string[] = [];
  const over = count(
    world.database,
    `select lot.id from lot join reservation on reservation.lot_id = lot.id group by lot.id
      having sum(reservation.mg) > lot.mg`,
  );
  if (over > 0) wrong.push(`${over} lots are promised beyond what is there`);
  const held = look(
    world.database,
    z.object({ number: z.number(), state: z.string() }),
    `select number, state from reservation join tasting on tasting.id = tasting_id
      where state in ('cancelled', 'decided')`,
  );
  for (const { number, state } of held) wrong.push(`T${number} is ${state} and still holds coffee`);
  const lots = look(world.database, z.object({ mg: z.number() }), 'select mg from lot');
  const left = lots.reduce((sum, { mg }) => sum + mg, 0);
  if (lots.length !== LOTS || left >= SHELVED_MG || left < SHELVED_MG / 4)
    wrong.push(`the shelf holds ${left} mg in ${lots.length} lots after one table`);
  return wrong;
}

const Reminder = z.object({
  key: z.string(),
  subject: z.string(),
  kind: z.string(),
  due_at: z.string(),
  fired_at: z.string().nullable(),
  cancelled_at: z.string().nullable(),
});

/** Every reminder that fell due was given, and what it brings about is there once. */
function checkReminders(world: World): readonly string[] {
  const wrong: string[] = [];
  const now = world.workspace.clock.now().toISOString();
  const reminders = look(
    world.database,
    Reminder,
    'select key, subject, kind, due_at, fired_at, cancelled_at from reminder',
  );
  for (const one of reminders) {
    if (one.fired_at === null && one.cancelled_at === null && one.due_at <= now)
      wrong.push(`reminder ${one.key}: was due ${one.due_at} and is lost`);
    if (one.fired_at !== null && one.fired_at < one.due_at) wrong.push(`reminder ${one.key}: came too early`);
    if (one.fired_at === null || !one.kind.startsWith('ask ')) continue;
    const traces = [`"kind":"${one.kind}"`, ...(ENDS.get(one.kind) ?? [])];
    const done = traces.some((trace) => {
      const sql = 'select 1 from ask_change where ask_id = ? and instr(detail_json, ?) > 0';
      return count(world.database, sql, Number(one.subject.slice('ask:'.length)), trace) > 0;
    });
    if (!done) wrong.push(`reminder ${one.key}: was given and left no trace`);
  }
  for (const [words, times] of REMINDED) {
    const found = count(
      world.slack,
      "select 1 from message where state = 'live' and text like ?",
      `${words}%`,
    );
    if (found !== times) wrong.push(`“${words}…” stands ${found} times, and not ${times}`);
  }
  return wrong;
}

/** Reminders that end an ask instead of reminding of it, by what its history then says. */
const ENDS: ReadonlyMap<string, readonly string[]> = new Map([
  ['ask lapsed', ['"what":"lapsed"']],
  ['ask given up', ['"what":"missed"']],
]);

/** What people were reminded of on the way, by the words it begins with. */
const REMINDED: readonly (readonly [string, number])[] = [
  ['Tomorrow: T1', 1],
  ['T1 begins at', 1],
  ['Tomorrow: T2', 0],
  ['T2 begins at', 0],
  ['Tomorrow: T3', 1],
];
