import { tastingName } from '../../domain/record/tasting.js';
import { KindRefusal } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import { freeFormTs, saveNote } from '../../store/notes.js';
import { findTastingByNumber } from '../../store/tastings.js';
import { inTransaction } from '../../store/transaction.js';
import type { Deps } from '../common/bot.js';
import { loadTable } from '../common/load-table.js';
import { houseVocabulary, readStoredNotes } from '../common/table-notes.js';

/** A note kept on paper: its words, and the cup it stood under when its words name none. */
export type PaperNote = { readonly text: string; readonly homeCup: string | null };

/**
 * Brings one taster's notes from paper into a table. They count like any other, late ones included when the
 * table has closed: paper is what people wrote at the table.
 *
 * @returns how many were kept and how many of them name no cup
 */
export async function importNotes(
  deps: Deps,
  workspace: string,
  tastingNumber: number,
  taster: string,
  notes: readonly PaperNote[],
): Promise<{ readonly kept: number; readonly withoutCup: number }> {
  const now = deps.clock.now();
  const tasting = await findTastingByNumber(deps.db, workspace, tastingNumber);
  if (!tasting) throw new KindRefusal('not found', `There is no tasting T${tastingNumber}.`);
  if (tasting.state === 'cancelled')
    throw new KindRefusal('not now', `${tastingName(tasting)} was cancelled.`);
  const setting = await loadTable(deps.db, workspace, tasting);
  return inTransaction(deps.db, async (trx) => {
    const vocabulary = await houseVocabulary(trx, workspace);
    const channel = `paper:${tasting.id}:${taster}`;
    let withoutCup = 0;
    for (const { text, homeCup } of notes) {
      const cup = setting.cups.find(
        (held) => homeCup !== null && [held.label, held.code].includes(homeCup.toUpperCase()),
      );
      const ts = await freeFormTs(trx, workspace, channel, now);
      const note = await saveNote(trx, {
        workspace,
        tastingId: tasting.id,
        source: 'paper',
        channel,
        ts,
        threadTs: null,
        person: paperPerson(taster),
        homeCupId: cup?.id ?? null,
        text,
        editedTs: null,
        late: false,
        at: now,
      });
      if (!note) throw new Error('a note from paper was kept and is gone');
      const [reading] = await readStoredNotes(trx, setting, [note], vocabulary);
      if (reading?.needsCup) withoutCup += 1;
    }
    await markChanged(trx, workspace, `tasting:${tasting.id}`, now);
    return { kept: notes.length, withoutCup };
  });
}

/** Somebody who wrote on paper: a Slack user id stays one, any other name is kept apart from them. */
function paperPerson(taster: string): string {
  return /^[UW][A-Z0-9]{6,}$/.test(taster) ? taster : `paper:${taster}`;
}
