import type { Message } from '../../local/api-types.js';
import { readAloud, readBlocks } from './read-aloud.js';
import type { Form, Stage } from './stage.js';
import type { Line, Story } from './stories.js';

export type Print = (line: string) => void;

/** Plays the whole story of one tasting and prints what each person sees. */
export async function playWhole(stage: Stage, story: Story, print: Print): Promise<void> {
  const show = shower(stage, print);
  print('It is Wednesday 4 November 2026, ten in the morning, at Fernhollow Coffee Works.');
  scene(print, 'Ines books a tasting in #tasting-table');
  said(print, 'Ines', BOOKING);
  show(await stage.command('ines', BOOKING));
  scene(print, 'What stands in #tasting-table');
  const card = await find(stage, 'T1 ·');
  show(card);
  scene(print, 'What Bram, the roaster, gets');
  const [ask] = await stage.direct('bram');
  show(ask);
  if (ask) await stage.tap('bram', ask, 'ask.accept');
  tapped(print, 'Bram', 'Accept');
  await stage.moveTo('2026-11-12T11:00:00Z');
  scene(print, 'Thursday 12 November, the roast day');
  const reminder = (await stage.direct('bram')).at(-1);
  show(reminder);
  if (reminder) await stage.tap('bram', reminder, 'ask.roasted');
  await stage.submit('bram', { roasted: '238 g' });
  said(print, 'Bram', 'taps Roasted: 280 g green in, 238 g out.');
  show((await stage.direct('bram'))[0]);
  await stage.moveTo('2026-11-13T13:50:00Z');
  scene(print, 'Friday 13 November, ten minutes before the start: the table sheet');
  show(await stage.command('ines', '/spoon table T1'));
  await openAndTaste(stage, story, print, true);
  await closeAndDecide(stage, print);
  await afterwards(stage, print);
}

/** The same table with other placings: only what comes out is printed. */
export async function playShort(stage: Stage, story: Story, print: Print): Promise<void> {
  await stage.command('ines', BOOKING);
  await stage.moveTo('2026-11-13T13:55:00Z');
  await openAndTaste(stage, story, print, false);
  await closeAndDecide(stage, print, false);
}

const BOOKING =
  '/spoon book "Harbour Lamp" 13 nov 14:00 ratios 2:1:1 40/40/20 with @noor @teo @mika @sol @wren @jun for "dark chocolate, strawberry, no sourness"';

async function openAndTaste(stage: Stage, story: Story, print: Print, whole: boolean): Promise<void> {
  const show = shower(stage, print);
  await stage.tap('ines', await find(stage, 'T1 ·'), 'table.open');
  const card = await find(stage, 'T1 ·');
  if (whole) {
    scene(print, 'The table opens: one card for each cup');
    for (const message of (await stage.messages()).filter((one) => one.text.startsWith('Cup ')))
      show(message);
    scene(print, 'People taste and reply, from their phones');
  }
  for (const note of story.notes) await writeNote(stage, note, card, whole ? print : () => {});
  if (whole) await slips(stage, card, print);
  for (const placing of story.placings) await writeNote(stage, placing, card, whole ? print : () => {});
}

async function writeNote(stage: Stage, line: Line, card: Message, print: Print): Promise<void> {
  const under = line.cup === null ? card : await find(stage, `Cup ${line.cup}`);
  await stage.say(line.who, line.text, under.ts);
  print(
    `${nameOf(stage, line.who)}, under ${line.cup === null ? 'the table' : `cup ${line.cup}`}: ${line.text}`,
  );
}

/** A slip mended, a note taken back, cups named in the table's thread, a cup not named, a cup poured. */
async function slips(stage: Stage, card: Message, print: Print): Promise<void> {
  const show = shower(stage, print);
  const cupB = await find(stage, 'Cup B');
  const slip = await stage.say('sol', 'also toffie', cupB.ts);
  await stage.post('edit', { as: stage.id('sol'), channel: stage.channel, ts: slip, text: 'also toffee' });
  print('Sol, under cup B: also toffie (mended to: also toffee)');
  const gone = await stage.say('wren', 'cardboard?', cupB.ts);
  await stage.post('delete', { as: stage.id('wren'), channel: stage.channel, ts: gone });
  print('Wren, under cup B: cardboard? (taken back)');
  await stage.say('wren', 'C: strawberry, funky. F: chocolate, flat', card.ts);
  print('Wren, under the table: C: strawberry, funky. F: chocolate, flat');
  await stage.say('jun', 'a hint of mint', card.ts);
  print('Jun, under the table, naming no cup: a hint of mint');
  const question = (await stage.thread(card.ts, 'jun')).find((message) => message.ephemeral);
  show(question);
  if (question) await stage.tap('jun', question, 'note.cup#4');
  tapped(print, 'Jun', 'E');
  show((await stage.thread(card.ts, 'jun')).at(-1));
  scene(print, 'Ines pours another ratio on the spot');
  await stage.say('ines', '@Tallyspoon pour 3:2:1', card.ts);
  said(print, 'Ines', '@Tallyspoon pour 3:2:1');
  show((await stage.thread(card.ts)).filter((message) => message.ephemeral).at(-1));
  show(await find(stage, 'Cup G'));
}

async function closeAndDecide(stage: Stage, print: Print, whole = true): Promise<void> {
  const show = shower(stage, print);
  await stage.tap('ines', await find(stage, 'T1 ·'), 'table.close');
  if (whole) {
    scene(print, 'Ines closes the table: the tally stands in its thread');
    const card = await find(stage, 'T1 ·');
    show((await stage.thread(card.ts)).find((message) => message.text.startsWith('Tally')));
    scene(print, 'Ines decides, with a batch of 12 kg');
  }
  await stage.command('ines', '/spoon digest T1 12 kg');
  show(await find(stage, 'Digest'));
}

/** What comes after the digest: the numbers for whoever asks, a word to each taster alone, the files. */
async function afterwards(stage: Stage, print: Print): Promise<void> {
  const show = shower(stage, print);
  scene(print, 'Noor wonders how sure that is');
  await stage.tap('noor', await find(stage, 'Digest'), 'digest.numbers');
  tapped(print, 'Noor', 'The numbers behind it');
  showForm(stage, await stage.form('noor'), print);
  scene(print, 'What Noor gets, alone');
  show((await stage.direct('noor')).find((message) => message.text.includes('your notes beside')));
  scene(print, 'Ines takes the figures along');
  await stage.tap('ines', await find(stage, 'Digest'), 'tally.export');
  tapped(print, 'Ines', 'Export');
  const thread = await stage.thread((await find(stage, 'T1 ·')).ts);
  for (const shared of thread.filter((message) => message.files.length > 0)) show(shared);
}

async function find(stage: Stage, beginning: string): Promise<Message> {
  const message = (await stage.messages()).find((one) => one.text.startsWith(beginning));
  if (!message) throw new Error(`no message begins with “${beginning}”`);
  return message;
}

function shower(stage: Stage, print: Print): (message: Message | null | undefined) => void {
  return (message) => {
    if (!message) return;
    const lines = readAloud(message, stage.names);
    print(message.ephemeral ? '  ┌ Tallyspoon, to one person alone' : '  ┌ Tallyspoon');
    for (const line of lines) print(`  │ ${line}`);
    print('  └');
  };
}

function showForm(stage: Stage, { title, blocks }: Form, print: Print): void {
  print(`  ┌ a form: ${title}`);
  for (const line of readBlocks(blocks, stage.names)) print(`  │ ${line}`);
  print('  └');
}

function scene(print: Print, title: string): void {
  print('');
  print(`═══ ${title}`);
}

function said(print: Print, who: string, words: string): void {
  print(`${who}: ${words}`);
}

function tapped(print: Print, who: string, label: string): void {
  print(`${who} taps [ ${label} ]`);
}

function nameOf(stage: Stage, handle: string): string {
  return stage.names.get(stage.id(handle)) ?? handle;
}
