import { z } from 'zod';
import { understoodSentence } from '../../domain/notes/reading.js';
import { findAttribute, type Vocabulary } from '../../domain/notes/vocabulary.js';
import type { Note } from '../../domain/record/note.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { cupName, type Tasting } from '../../domain/record/tasting.js';
import { say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Notice } from '../../kit/notice.js';
import { UserError } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import { type Db, inTransaction } from '../../store/db.js';
import { loadHouse, saveHouseWord } from '../../store/house.js';
import { chooseCup, findGoneNote, findNote } from '../../store/notes.js';
import { findReadNote, saveCorrection } from '../../store/readings.js';
import { type Answer, type Deps, type Feature, type SubmitAnswer, subjectId } from '../common/bot.js';
import {
  chosen,
  type FormState,
  Id,
  readValue,
  type Submission,
  type Tap,
  type Typed,
  type Who,
  written,
} from '../common/intake.js';
import { requireTable, requireTableAt, whichTasting } from '../common/load-table.js';
import { requireMay, standingOf } from '../common/standing.js';
import { houseVocabulary, readStoredNotes, rereadOpenTables, understand } from '../common/table-notes.js';
import { isHidden } from '../common/table-view.js';
import { openOwnData } from '../privacy/privacy.js';
import { CORRECT_FORM, correctForm, DROP, NOTE_FORM, noteForm, noteNotices } from './note-messages.js';
import { ownNotes, writeFormNotes } from './note-written.js';

const Value = z.object({ tasting: Id, cup: Id.optional() });
/** A submission does not say where its form was opened, so the form does. */
const State = z.object({ tasting: Id, channel: z.string().nullish() });

export const note: Feature = {
  verb: {
    name: 'note',
    does: 'your own notes and placing in a form, with what was understood',
    example: '/spoon note T4',
    run: typedNote,
  },
  taps: {
    'note.form': {
      for: 'taste',
      run: async (deps, tap) => {
        const value = readValue(Value, tap.value);
        return openNoteForm(deps, tap, value.tasting, value.cup ?? null);
      },
    },
    'note.cup': { for: 'change note', run: cupTap },
    'note.correct': { for: 'change note', run: correctTap },
  },
  forms: {
    [NOTE_FORM]: { for: 'taste', run: submitNote },
    [CORRECT_FORM]: { for: 'change note', run: correctSubmitted },
  },
  subjects: {
    note: {
      notices: (deps, workspace, subject) => noticesOfNote(deps, workspace, Number(subjectId(subject))),
    },
  },
};

async function typedNote(deps: Deps, typed: Typed): Promise<Answer> {
  if (/^(my )?data$/i.test(typed.words.trim())) return openOwnData(deps, { who: typed.who, form: null });
  const states: readonly Tasting['state'][] = ['open', 'closed', 'ready', 'booked'];
  const { tasting, rest } = await whichTasting(deps.db, typed, states, '/spoon note T4');
  if (rest === '') return openNoteForm(deps, typed, tasting.id, null);
  const setting = await requireTableAt(deps.db, typed.who, typed.channel, tasting.id, 'taste');
  return { message: await writeFormNotes(deps, typed.who, setting, { cup: null, text: rest, placing: '' }) };
}

async function openNoteForm(
  deps: Deps,
  { who, channel }: Pick<Tap, 'who' | 'channel'>,
  tastingId: number,
  cupId: number | null,
): Promise<Answer> {
  const setting = await requireTableAt(deps.db, who, channel, tastingId, 'taste');
  const own = await ownNotes(deps.db, who.workspace, setting, who.person);
  return { form: noteForm({ setting, hidden: isHidden(setting), cupId, own, channel }) };
}

async function submitNote(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { tasting, channel } = readValue(State, form.privateMetadata);
  const setting = await requireTableAt(deps.db, who, channel ?? null, tasting, 'taste');
  const cup = (name: string) => setting.cups.find((held) => String(held.id) === written(form, name)) ?? null;
  const best = cup('best');
  // The order as typed, or "best: D": what the reader understands like any other words.
  const placing = written(form, 'order') || (best ? `best: ${cupName(best)}` : '');
  const said = { cup: cup('cup'), text: written(form, 'text'), placing };
  return { message: await writeFormNotes(deps, who, setting, said) };
}

/** Notices of a note: the reaction on it, and the question which cup was meant. */
async function noticesOfNote(deps: Deps, workspace: string, noteId: number): Promise<readonly Notice[]> {
  const note = await findReadNote(deps.db, workspace, noteId);
  if (note) {
    // Only the question which cup was meant shows the table.
    const asks = note.reading.needsCup && note.source === 'thread';
    return noteNotices(note, asks ? await requireTable(deps.db, workspace, note.tastingId) : null);
  }
  const gone = await findGoneNote(deps.db, workspace, noteId);
  // A note taken back takes its reaction with it.
  return gone ? [{ kind: 'reaction', key: `reaction:${noteId}`, ...gone, name: null }] : [];
}

const OfNote = z.object({ note: Id });
const OfCup = OfNote.extend({ cup: Id });
const MOST_OTHERS = 40;

/** The form in which a taster says what was meant; from inside a form it opens on top. */
async function correctTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { note, setting, reading, vocabulary } = await ownReading(deps.db, tap.who, tap.value);
  const asks = reading.needsCup || (note.homeCupId === null && note.chosenCupId !== null);
  const form = correctForm({
    noteId: note.id,
    text: note.text,
    whichCup: asks ? { cups: setting.cups, chosen: note.chosenCupId } : null,
    mentions: reading.mentions.slice(0, 40).map((mention) => ({
      name: spanName('m', mention.span),
      words: note.text.slice(...mention.span),
      cup: mention.cup,
      attribute: mention.attribute,
      others: siblings(vocabulary, mention.attribute),
    })),
    unplaced: reading.unplaced.slice(0, 10).map(({ words, span }) => ({ name: spanName('u', span), words })),
  });
  return tap.form ? { pushForm: form } : { form };
}

/** One's own note, as a button or form names it, with what is read in it now. */
async function ownReading(db: Db, who: Who, json: string) {
  const note = await requireOwnNote(db, who, readValue(OfNote, json).note);
  const setting = await requireTable(db, who.workspace, note.tastingId);
  const reading = await understand(db, who.workspace, setting, note);
  return { note, setting, reading, vocabulary: await houseVocabulary(db, who.workspace) };
}

/** Keeps the corrections, reads the note again, and teaches the house when asked to. */
async function correctSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { note, setting, reading, vocabulary } = await ownReading(deps.db, who, form.privateMetadata);
  const corrections = [
    ...reading.mentions.flatMap(({ span, attribute }) => changedMention(form, span, attribute, vocabulary)),
    ...reading.unplaced.flatMap(({ span, words }) => placedWords(form, span, words, vocabulary)),
  ];
  const now = deps.clock.now();
  const by = { workspace: who.workspace, by: who.person, at: now };
  const cup = setting.cups.find((held) => String(held.id) === written(form, 'cup'));
  const said = await inTransaction(deps.db, async (trx) => {
    for (const { span, attribute } of corrections) {
      await saveCorrection(trx, { ...by, noteId: note.id, span, attribute });
    }
    if (cup) await chooseCup(trx, note.id, cup.id);
    if (chosen(form, 'teach').includes('teach')) {
      for (const { words, attribute } of corrections) {
        if (words === null || attribute === null) continue;
        await saveHouseWord(trx, { ...by, words: words.toLowerCase(), attribute });
      }
      await rereadOpenTables(trx, who.workspace, now);
    }
    return readAgain(trx, who, setting, note.id, now);
  });
  return {
    message: say(said ? `${mrkdwn(said)}.` : 'Kept. Nothing in it counts as a taste now.'),
    closeAll: true,
  };
}

/** "Which cup was that?", answered with one tap. */
async function cupTap(deps: Deps, tap: Tap): Promise<Answer> {
  const value = readValue(OfCup, tap.value);
  const note = await requireOwnNote(deps.db, tap.who, value.note);
  const setting = await requireTable(deps.db, tap.who.workspace, note.tastingId);
  const cup = setting.cups.find((held) => held.id === value.cup);
  if (!cup) throw new UserError('That cup is no longer on the table.', 'Edit your note and name a cup.');
  const said = await inTransaction(deps.db, async (trx) => {
    await chooseCup(trx, note.id, cup.id);
    return readAgain(trx, tap.who, setting, note.id, deps.clock.now());
  });
  return { message: say(`Counted for cup *${cupName(cup)}*. ${mrkdwn(said ?? '')}`.trim()) };
}

/** People see and change their own notes alone. */
async function requireOwnNote(db: Db, who: Who, noteId: number): Promise<Note> {
  const note = await findNote(db, who.workspace, noteId);
  if (!note) throw new UserError('That note was taken back.', 'Write another under its cup.');
  const house = await loadHouse(db, who.workspace);
  requireMay('change note', standingOf(who.person, house, { writer: note.person }));
  return note;
}

/** Reads a note anew and says what was understood; null when nothing was, or the note is gone. */
async function readAgain(
  trx: Db,
  who: Who,
  setting: TableSetting,
  noteId: number,
  now: Date,
): Promise<string | null> {
  const note = await findNote(trx, who.workspace, noteId);
  if (!note) return null;
  const vocabulary = await houseVocabulary(trx, who.workspace);
  const [reading] = await readStoredNotes(trx, setting, [note], vocabulary);
  await markChanged(trx, who.workspace, `note:${noteId}`, now);
  await markChanged(trx, who.workspace, `tasting:${note.tastingId}`, now);
  return reading ? understoodSentence(reading) : null;
}

type Corrected = {
  readonly span: readonly [number, number];
  readonly attribute: string | null;
  readonly words: string | null;
};

function changedMention(
  form: FormState,
  span: readonly [number, number],
  attribute: string,
  vocabulary: Vocabulary,
): readonly Corrected[] {
  const choice = written(form, spanName('m', span));
  if (choice === '' || choice === attribute) return [];
  if (choice !== DROP && !vocabulary.attributes.has(choice)) return [];
  return [{ span, attribute: choice === DROP ? null : choice, words: null }];
}

function placedWords(
  form: FormState,
  span: readonly [number, number],
  words: string,
  vocabulary: Vocabulary,
): readonly Corrected[] {
  const name = spanName('u', span);
  const meaning = written(form, name);
  if (meaning === '') return [];
  const attribute = findAttribute(vocabulary, meaning);
  if (attribute === null) {
    throw new UserError(
      `I do not know “${mrkdwn(meaning)}” either.`,
      'Use a word I know, like cane sugar, or leave it empty.',
      name,
    );
  }
  return [{ span, attribute, words }];
}

/** Attributes of the same subfamily, then of the same family: what a misreading was most likely meant to be. */
function siblings(vocabulary: Vocabulary, attribute: string): readonly string[] {
  const entry = vocabulary.attributes.get(attribute);
  if (!entry) return [];
  const others = [...vocabulary.attributes.values()].filter(
    (other) => other.family === entry.family && other.name !== attribute,
  );
  const near = others.filter((other) => other.subfamily === entry.subfamily);
  return [...new Set([...near, ...others].map((other) => other.name))].slice(0, MOST_OTHERS);
}

function spanName(kind: 'm' | 'u', span: readonly [number, number]): string {
  return `${kind}:${span[0]}:${span[1]}`;
}
