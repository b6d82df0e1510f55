import { digestMessage } from '../../src/commands/deciding/digest-message.js';
import { SHIPPED_VOCABULARY } from '../../src/domain/notes/vocabulary.js';
import type { ReadNote } from '../../src/domain/record/note.js';
import { tableResult } from '../../src/domain/result/table-result.js';
import { largeView } from '../commands/table/large-table.js';

export const VIEW = largeView();

/** What the bot works out of a table's notes when it is decided: tally, trace, verdict, brief. */
export function resultOf(notes: readonly ReadNote[]) {
  return tableResult({
    setting: VIEW,
    notes,
    house: VIEW.house,
    vocabulary: SHIPPED_VOCABULARY,
    hostChoice: null,
  });
}

/** The digest's payload, as JSON, as it is sent. */
export function digestOf(result: ReturnType<typeof resultOf>): string {
  return JSON.stringify(
    digestMessage({ view: VIEW, result, production: null, against: null, remarks: null }),
  );
}

/** Milliseconds of processor time that some work takes, by the mean of so many repeats. */
export function processorMs(work: () => unknown, repeats: number): number {
  const start = process.cpuUsage();
  for (let repeat = 0; repeat < repeats; repeat += 1) work();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000 / repeats;
}
