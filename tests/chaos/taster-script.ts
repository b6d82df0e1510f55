import { setTimeout as sleep } from 'node:timers/promises';
import { type Dice, throwDice } from './dice.js';
import { type ExpectedNote, nextSecret } from './expected.js';
import type { Table } from './host-script.js';
import { happens, insist, patiently } from './insist.js';
import { count } from './look.js';
import { cardOf, tap } from './person.js';
import type { World } from './world.js';

const TASTERS = ['noor', 'teo', 'mika', 'sol', 'wren', 'jun', 'ines'] as const;
const LABELS = ['A', 'B', 'C', 'D', 'E', 'F'] as const;
const ATTRIBUTES = [
  'strawberry',
  'lemon',
  'black tea',
  'dark chocolate',
  'brown sugar',
  'blueberry',
  'hazelnut',
  'orange',
  'peach',
  'jasmine',
] as const;
const PLACINGS = ['E > D > F', 'D > E > F', '1. F 2. D 3. E', 'best: E', 'E 8/9, D 6/9'] as const;
const TALK = ['who has the kettle?', 'be right back', 'two minutes'] as const;

/** Where the script's share of notes begins and ends, as shares of the run. */
const FROM = 0.25;
const TO = 0.95;
const PATIENCE_MS = 120_000;

type Written = { readonly text: string; readonly claims: ExpectedNote['claims'] };

/** Everybody's notes, edits, second thoughts and questions answered, over these lives of the bot. */
export async function playTasters(world: World, table: Table, lives: number): Promise<void> {
  const dice = throwDice(world.seed, 'tasters');
  const answers: Promise<void>[] = [];
  for (let phase = Math.max(1, Math.ceil(FROM * lives)); phase <= Math.ceil(TO * lives); phase += 1) {
    await world.phases.reached(phase);
    await happens(() => table.stage !== null, PATIENCE_MS);
    for (let left = dice.between(4, 9); left > 0; left -= 1) {
      const question = await world.quietly(() => playOne(world, table, dice));
      if (question) answers.push(answer(world, question));
      if (dice.chance(0.7)) await sleep(dice.between(5, 120));
    }
  }
  await Promise.all(answers);
}

/** A note in need of an answer: which cup was that? */
type Question = { readonly note: ExpectedNote; readonly cup: number; readonly attribute: string };

async function playOne(world: World, table: Table, dice: Dice): Promise<Question | null> {
  const throwOf = dice.between(1, 100);
  if (throwOf <= 40) await underCup(world, table, dice);
  else if (throwOf <= 55) await underTable(world, table, dice, cupsNamed(dice));
  else if (throwOf <= 62) return withoutCup(world, table, dice);
  else if (throwOf <= 68) await underTable(world, table, dice, { text: dice.oneOf(PLACINGS), claims: [] });
  else if (throwOf <= 73) await underTable(world, table, dice, { text: dice.oneOf(TALK), claims: [] });
  else if (throwOf <= 88) await changeMind(world, dice);
  else await takeBack(world, dice);
  return null;
}

async function underCup(world: World, table: Table, dice: Dice): Promise<void> {
  const label = dice.oneOf(LABELS);
  const card = await patiently(() => cardOf(world, 'noor', `Cup ${label}`));
  const note = await write(world, table, dice, card.ts, inCup(label, dice));
  // Corrected or taken back in the same breath, so that the change may well arrive before the words.
  if (dice.chance(0.35)) await edit(world, note, inCup(label, dice));
  if (dice.chance(0.3)) await remove(world, note);
}

async function underTable(world: World, table: Table, dice: Dice, written: Written): Promise<ExpectedNote> {
  const card = await patiently(() => cardOf(world, 'noor', 'T1 ·'));
  return write(world, table, dice, card.ts, written);
}

async function withoutCup(world: World, table: Table, dice: Dice): Promise<Question> {
  const attribute = dice.oneOf(ATTRIBUTES);
  // No two alike, so that it is certain which note the question is about.
  const text = `${attribute}${'!'.repeat(1 + world.expected.notes.size)}`;
  const note = await underTable(world, table, dice, { text, claims: null });
  return { note, cup: dice.between(0, LABELS.length - 1), attribute };
}

/** Taps the cup that was meant under the question, which only the note's writer sees. */
async function answer(world: World, { note, cup, attribute }: Question): Promise<void> {
  await insist(
    `answer which cup was meant by ${note.ts}`,
    async () => {
      const thread = await world.client.messages(note.person, world.channel, note.thread);
      const asked = thread.filter(({ ephemeral, text }) => ephemeral && text.includes(`“${note.text}”`));
      const question = asked.at(-1);
      if (!question) throw new Error('nobody has asked yet');
      return tap(world, note.person, question, `note.cup#${cup}`);
    },
    () =>
      count(world.database, 'select 1 from note where ts = ? and chosen_cup_id is not null', note.ts) > 0 ||
      note.gone,
  );
  if (!note.gone) note.claims = [[LABELS[cup] ?? '', attribute]];
}

async function changeMind(world: World, dice: Dice): Promise<void> {
  const note = standing(world, dice);
  if (!note) return;
  const label = note.claims?.[0]?.[0] ?? '';
  const isUnderCup = !note.text.includes(':');
  await edit(world, note, isUnderCup ? inCup(label, dice) : cupsNamed(dice));
}

async function takeBack(world: World, dice: Dice): Promise<void> {
  const note = standing(world, dice);
  if (note) await remove(world, note);
}

/** One of the notes that stand and whose reading the script knows. */
function standing(world: World, dice: Dice): ExpectedNote | null {
  const notes = [...world.expected.notes.values()].filter((note) => !note.gone && note.claims?.length);
  const [first, ...more] = notes;
  return first ? dice.oneOf([first, ...more]) : null;
}

function inCup(label: string, dice: Dice): Written {
  const found = [...new Set([dice.oneOf(ATTRIBUTES), dice.oneOf(ATTRIBUTES)])];
  return { text: found.join(', '), claims: found.map((attribute) => [label, attribute]) };
}

function cupsNamed(dice: Dice): Written {
  const [one, other] = [dice.oneOf(['A', 'B', 'C'] as const), dice.oneOf(['D', 'E', 'F'] as const)];
  const [first, second] = [dice.oneOf(ATTRIBUTES), dice.oneOf(ATTRIBUTES)];
  return {
    text: `${one}: ${first}\n${other}: ${second}`,
    claims: [
      [one, first],
      [other, second],
    ],
  };
}

async function write(
  world: World,
  table: Table,
  dice: Dice,
  thread: string,
  { text, claims }: Written,
): Promise<ExpectedNote> {
  const { stage } = table;
  if (stage === null) throw new Error('notes begin when the table is open');
  const person = world.id(dice.oneOf(TASTERS));
  const ts = await world.client.say({ as: person, channel: world.channel, thread, text });
  const note: ExpectedNote = { ts, thread, person, stage, text, claims, gone: false };
  world.expected.notes.set(ts, note);
  if (dice.chance(0.15)) await chat(world, dice);
  return note;
}

async function edit(world: World, note: ExpectedNote, { text, claims }: Written): Promise<void> {
  await world.client.post('edit', { as: note.person, channel: world.channel, ts: note.ts, text });
  note.text = text;
  note.claims = claims;
}

async function remove(world: World, note: ExpectedNote): Promise<void> {
  await world.client.post('delete', { as: note.person, channel: world.channel, ts: note.ts });
  note.gone = true;
}

/** Talk that is not the bot's business: beside the tables, in a thread of people's own, in another channel. */
async function chat(world: World, dice: Dice): Promise<void> {
  const as = world.id(dice.oneOf(TASTERS));
  const channel = dice.oneOf([world.channel, world.channel, world.elsewhere]);
  const say = (more: object) =>
    world.client.say({ as, channel, text: `${dice.oneOf(ATTRIBUTES)} ${nextSecret(world)}`, ...more });
  const ts = await say({});
  if (dice.chance(0.5)) await say({ thread: ts });
  if (dice.chance(0.3))
    await world.client.post('edit', { as, channel, ts, text: `lemon ${nextSecret(world)}` });
  if (dice.chance(0.2)) await world.client.post('delete', { as, channel, ts });
}

const LATE_MS = 60_000;
const HEARD_WITHIN_MS = 10_000;

/**
 * A note taken back in the bot's last life, whose words come long after word that it is gone. In the lives
 * before, the threads are read again at the next start, which would mend what the bot got wrong.
 */
export async function takesBackFirst(world: World): Promise<void> {
  const { channel, client, expected } = world;
  const { ts: thread } = await patiently(() => cardOf(world, 'noor', 'T1 ·'));
  await client.post('faults', { rules: [{ kind: 'deliver-late', only: ['message'], delayMs: LATE_MS }] });
  const person = world.id('teo');
  const text = 'A: cardboard';
  const ts = await client.say({ as: person, channel, thread, text });
  await client.post('delete', { as: person, channel, ts });
  expected.notes.set(ts, { ts, thread, person, stage: 'closed', text, claims: null, gone: true });
  const isHeard = () => count(world.database, 'select 1 from gone_message where ts = ?', ts) > 0;
  if (!(await happens(isHeard, HEARD_WITHIN_MS))) throw new Error('word of a note taken back is lost');
  await client.clearFaults();
  expected.done.push('take a note back before its words arrive');
}
