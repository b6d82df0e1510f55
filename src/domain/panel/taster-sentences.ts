import type { BesideTable, TasterBesideTable } from './taster-beside-table.js';

/** How cups and attributes are called when speaking to one taster. */
export type PanelNames = {
  readonly nameOfCup: (cup: string) => string;
  readonly wordOf: (attribute: string) => string;
};

const MOST_NAMED = 3;

function listed(items: readonly string[]): string {
  const last = items.at(-1) ?? '';
  return items.length < 2 ? last : `${items.slice(0, -1).join(', ')} and ${last}`;
}

function withCounts(lines: readonly BesideTable[], names: PanelNames): string {
  return listed(
    lines
      .slice(0, MOST_NAMED)
      .map(
        ({ cup, attribute, others, ofOthers }) =>
          `${names.wordOf(attribute)} in ${names.nameOfCup(cup)} (${others} of the ${ofOthers} others)`,
      ),
  );
}

function plain(lines: readonly BesideTable[], names: PanelNames): string {
  return listed(
    lines
      .slice(0, MOST_NAMED)
      .map(({ cup, attribute }) => `${names.wordOf(attribute)} in ${names.nameOfCup(cup)}`),
  );
}

function count(number: number, one: string, many: string): string {
  return `${number} ${number === 1 ? one : many}`;
}

/**
 * What a taster is told, privately, after closing: what they shared with the table, what they alone found, and what
 * most others found. Nobody is ranked, and nobody else is named.
 *
 * @returns sentences in the order to say them; one alone when there is nobody to compare with
 */
export function tasterSentences(beside: TasterBesideTable, names: PanelNames): readonly string[] {
  const { shared, alone, missed } = beside;
  const opening = `You noted ${count(beside.cups, 'cup', 'cups')} and found ${count(beside.found, 'attribute', 'attributes')}.`;
  const told: string[] = [opening];
  if (shared.length > 0) {
    told.push(
      `The table tasted ${shared.length === 1 ? 'one of them' : `${shared.length} of them`} too, among them ${withCounts(shared, names)}.`,
    );
  }
  if (alone.length > 0) {
    told.push(
      `You alone found ${plain(alone, names)}. One taster can be the first to notice something: worth a second sip.`,
    );
  }
  if (missed.length > 0) {
    told.push(
      `Most others found ${withCounts(missed, names)}. If you taste those cups again, see whether you meet it.`,
    );
  }
  if (told.length === 1) told.push('There were too few other notes on your cups to set yours beside them.');
  return told;
}
