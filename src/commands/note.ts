import { z } from 'zod';
import type { Tasting } from '../domain/record/tasting.js';
import { CORRECT_FORM } from '../notices/correct-form.js';
import { NOTE_FORM, noteForm } from '../notices/note-form.js';
import { isHidden } from '../notices/table-view.js';
import type { Answer, SubmitAnswer } from './answer.js';
import type { Deps } from './deps.js';
import type { Feature } from './feature.js';
import { written } from './form-values.js';
import type { Submission, Tap, Typed } from './intake.js';
import { requireTableAt } from './load-table.js';
import { correctSubmitted, correctTap, cupTap } from './note-correct.js';
import { placingWords, writeFormNotes } from './note-written.js';
import { ownNotes } from './own-notes.js';
import { eraseTap, exportTap, openOwnData, ownDataTap } from './privacy.js';
import { Id, readValue } from './values.js';
import { takeTastingName, whichTasting } from './which-tasting.js';

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
  taps: new Map([
    [
      'note.form',
      async (deps, tap) => {
        const value = readValue(Value, tap.value);
        return openNoteForm(deps, tap, value.tasting, value.cup ?? null);
      },
    ],
    ['note.cup', cupTap],
    ['note.correct', correctTap],
    ['privacy.mine', ownDataTap],
    ['privacy.export', exportTap],
    ['privacy.erase', eraseTap],
  ]),
  forms: new Map([
    [NOTE_FORM, submitNote],
    [CORRECT_FORM, correctSubmitted],
  ]),
};

async function typedNote(deps: Deps, typed: Typed): Promise<Answer> {
  if (/^(my )?data$/i.test(typed.words.trim())) return openOwnData(deps, typed.who);
  const { number, rest } = takeTastingName(typed.words);
  const states: readonly Tasting['state'][] = ['open', 'closed', 'ready', 'booked'];
  const tasting = await whichTasting(deps.db, typed, number, states, '/spoon note T4');
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
  const placing = placingWords(cup('best'), written(form, 'order'));
  return {
    message: await writeFormNotes(deps, who, setting, {
      cup: cup('cup'),
      text: written(form, 'text'),
      placing,
    }),
  };
}
