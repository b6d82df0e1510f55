import type { ReadNote } from '../record/note.js';
import type { TableResult } from '../record/table-result.js';
import type { TableSetting } from '../record/table-setting.js';
import type { ExportTable } from './export-table.js';
import { notesExport } from './notes-table.js';
import { placingsExport } from './placings-table.js';
import { standingsExport } from './standings-table.js';
import { tallyExport } from './tally-table.js';
import { tasterNumbers } from './taster-numbers.js';
import { traceExport } from './trace-table.js';

/** Everything a table found, as tables to take away: nobody's name is in them. */
export function tableExport(
  setting: TableSetting,
  result: TableResult,
  notes: readonly ReadNote[],
): readonly ExportTable[] {
  const numbers = tasterNumbers(
    notes.map(({ person }) => person),
    setting.tasting.seed,
  );
  return [
    tallyExport(setting, result),
    notesExport(setting, notes, numbers),
    placingsExport(setting, result, numbers),
    standingsExport(setting, result),
    traceExport(setting, result),
  ];
}
