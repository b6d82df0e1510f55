import type Database from 'better-sqlite3';
import { readNote } from '../../src/domain/notes/read-note.js';
import { SHIPPED_VOCABULARY } from '../../src/domain/notes/vocabulary.js';
import type { DrawBelow } from '../../src/domain/stats/seeded-random.js';
import { canonicalJson, hashOf } from '../../src/slack/out/stored-notice.js';
import { CHANNEL, HOST, ROASTER, TASTERS, WORDS, WORKSPACE } from './parts.js';

/*
 * Years of decided tastings, written straight into the tables: twelve people, six cups, about two hundred notes
 * a tasting, each with what the real reader understood, its reaction, and its table's cards and history.
 */

export const NOTES_A_TASTING = 200;
const CUPS = ['A', 'B', 'C', 'D', 'E', 'F'];
const DAY_MS = 24 * 60 * 60 * 1000;

type Statement = Database.Statement<unknown[]>;

const READINGS = WORDS.map((text) => ({
  words: text,
  ...readNote(text, { cups: [], homeCup: 'A', blind: false }, SHIPPED_VOCABULARY),
}));

/** Adds decided tastings with their notes; the coffees and the blend of the demo must be there. */
export function fill(sqlite: Database.Database, tastings: number, draw: DrawBelow): void {
  const version = Number(sqlite.prepare('select max(id) from recipe_version').pluck().get());
  const coffee = Number(sqlite.prepare('select min(id) from coffee').pluck().get());
  const statements = prepare(sqlite);
  const first = Date.now() - 30 * DAY_MS - tastings * (DAY_MS / 2);
  const one = sqlite.transaction((tasting: number) =>
    addTasting(
      statements,
      { number: tasting + 1, at: first + (tasting * DAY_MS) / 2, version, coffee },
      draw,
    ),
  );
  for (let tasting = 0; tasting < tastings; tasting += 1) one(tasting);
}

function prepare(sqlite: Database.Database) {
  const into = (table: string, columns: string): Statement =>
    sqlite.prepare(
      `insert into ${table} (${columns}) values (${columns
        .split(',')
        .map(() => '?')
        .join(',')})`,
    );
  return {
    tasting: into(
      'tasting',
      'workspace,number,recipe_version_id,channel,host,starts_at,state,blind,format,tables,seed,opened_at,closed_at,decided_at,created_at,created_by',
    ),
    reminder: into('reminder', 'workspace,key,subject,kind,due_at,detail_json,fired_at'),
    ask: into(
      'ask',
      'workspace,coffee_id,roaster,roasted_mg,green_mg,loss_bp,over_mg,roast_day,state,favour,reason,created_at,created_by',
    ),
    askFor: into('ask_for', 'ask_id,tasting_id,mg'),
    invited: into('invited', 'tasting_id,person'),
    change: into('tasting_change', 'workspace,tasting_id,at,who,change,detail_json'),
    cup: into(
      'cup',
      'workspace,tasting_id,position,label,kind,coffee_id,parts_json,scooped,created_at,created_by',
    ),
    note: into(
      'note',
      'workspace,tasting_id,source,channel,ts,thread_ts,person,home_cup_id,text,late,received_at',
    ),
    reading: into('reading', 'note_id,liking_json,worst_json,needs_cup,unplaced_json'),
    mention: into(
      'mention',
      'note_id,seq,cup_id,attribute,polarity,degree,intensity,doubt,span_start,span_end',
    ),
    notice: into(
      'notice',
      'workspace,key,subject,kind,place_json,wanted_json,wanted_hash,shown_hash,shown_json,channel,ts,state,attempts',
    ),
  };
}

type Statements = ReturnType<typeof prepare>;
type Laid = {
  readonly number: number;
  readonly at: number;
  readonly version: number;
  readonly coffee: number;
};

function addTasting(into: Statements, laid: Laid, draw: DrawBelow): void {
  const at = new Date(laid.at).toISOString();
  const { lastInsertRowid: id } = into.tasting.run(
    ...[WORKSPACE, laid.number, laid.version, CHANNEL, HOST, at, 'decided', 0, 'cupping', 1, laid.number],
    ...[at, at, at, at, HOST],
  );
  for (const taster of TASTERS) into.invited.run(id, taster);
  for (const change of ['booked', 'opened', 'closed', 'decided'])
    into.change.run(WORKSPACE, id, at, HOST, change, '{}');
  for (const when of ['day', 'hour', 'start'])
    into.reminder.run(WORKSPACE, `tasting:${id}:${when}`, `tasting:${id}`, 'tasting', at, '{}', at);
  const { lastInsertRowid: ask } = into.ask.run(
    ...[WORKSPACE, laid.coffee, ROASTER, 238_000, 280_000, 1550, 0, at.slice(0, 10), 'roasted', 0],
    ...['The table needs it.', at, HOST],
  );
  into.askFor.run(ask, id, 229_200);
  const ts = (place: number) =>
    `${Math.floor(laid.at / 1000) + place}.${String(laid.number).padStart(6, '0')}`;
  card(into, { key: `table:${id}`, subject: `tasting:${id}`, ts: ts(0) });
  const cups = CUPS.map((label, position) => {
    const parts = JSON.stringify([{ coffee: laid.coffee, parts: position + 1 }]);
    const isComponent = position < 3;
    const { lastInsertRowid: cup } = into.cup.run(
      ...[WORKSPACE, id, position, label, isComponent ? 'component' : 'ratio'],
      ...[isComponent ? laid.coffee : null, isComponent ? null : parts, 0, at, HOST],
    );
    card(into, { key: `cup:${cup}`, subject: `tasting:${id}`, ts: ts(position + 1) });
    return { cup, ts: ts(position + 1) };
  });
  for (let place = 0; place < NOTES_A_TASTING; place += 1) {
    const under = cups[draw(cups.length)];
    const read = READINGS[draw(READINGS.length)];
    if (under && read) addNote(into, { id, at, under, read, ts: ts(place + 10) }, draw);
  }
}

function addNote(
  into: Statements,
  noted: {
    readonly id: number | bigint;
    readonly at: string;
    readonly under: { readonly cup: number | bigint; readonly ts: string };
    readonly read: (typeof READINGS)[number];
    readonly ts: string;
  },
  draw: DrawBelow,
): void {
  const { id, at, under, read, ts } = noted;
  const taster = TASTERS[draw(TASTERS.length)];
  const { lastInsertRowid: note } = into.note.run(
    ...[WORKSPACE, id, 'thread', CHANNEL, ts, under.ts, taster, under.cup, read.words, 0, at],
  );
  into.reading.run(note, '[]', '[]', 0, JSON.stringify(read.unplaced));
  for (const [seq, said] of read.mentions.entries())
    into.mention.run(
      ...[note, seq, under.cup, said.attribute, said.polarity, said.degree, said.intensity],
      ...[said.doubt ? 1 : 0, ...said.span],
    );
  const wanted = canonicalJson({
    kind: 'reaction',
    key: `reaction:${note}`,
    channel: CHANNEL,
    ts,
    name: 'spoon',
  });
  const hash = hashOf(wanted);
  into.notice.run(
    ...[WORKSPACE, `reaction:${note}`, `note:${note}`, 'reaction', '{}', wanted, hash, hash],
    ...[JSON.stringify({ name: 'spoon' }), CHANNEL, ts, 'kept', 0],
  );
}

function card(into: Statements, { key, subject, ts }: { key: string; subject: string; ts: string }): void {
  const place = canonicalJson({ kind: 'channel', channel: CHANNEL });
  const wanted = canonicalJson({
    key,
    message: { text: 'A card. '.repeat(30), blocks: [] },
    kind: 'message',
  });
  const hash = hashOf(wanted);
  into.notice.run(
    ...[WORKSPACE, key, subject, 'message', place, wanted, hash, hash, null, CHANNEL, ts, 'kept', 0],
  );
}
