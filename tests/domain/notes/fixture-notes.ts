import { readFileSync } from 'node:fs';
import { type LabelledNote, parseLabelled } from '../../../src/cli/notes-labelled.js';
import type { CupName, NoteContext } from '../../../src/domain/notes/cup-reference.js';
import { readNote } from '../../../src/domain/notes/read-note.js';
import type { Reading } from '../../../src/domain/notes/reading.js';
import { SHIPPED_VOCABULARY } from '../../../src/domain/notes/vocabulary.js';

const FOLDER = new URL('../../../fixtures/notes/', import.meta.url);

/** The five cups of the demo table: three coffees alone and two ratios of them. */
export const CUPS: readonly CupName[] = [
  { label: 'A', code: '361', name: 'Chirinos', kind: 'component' },
  { label: 'B', code: '742', name: 'Kayanza Hill', kind: 'component' },
  { label: 'C', code: '528', name: 'Nubosa Natural', kind: 'component' },
  { label: 'D', code: '195', name: '50/30/20', kind: 'ratio' },
  { label: 'E', code: '846', name: '2:1:1', kind: 'ratio' },
];

const ONE_CUP: NoteContext = { cups: [], homeCup: null, blind: false };

/** Notes written and labelled by hand for the demo scenario. */
export function labelledNotes(): readonly LabelledNote[] {
  return parseLabelled(readFileSync(new URL('labelled.jsonl', FOLDER), 'utf8'));
}

/** Lines of everyday channel talk, none of which is a note. */
export function talkLines(): readonly string[] {
  return readFileSync(new URL('talk.txt', FOLDER), 'utf8').trimEnd().split('\n');
}

/** Reads a note on one cup. */
export function readOne(text: string): Reading {
  return readNote(text, ONE_CUP, SHIPPED_VOCABULARY);
}

/** Reads a message in the table's thread, or in a cup's own thread when its label is given. */
export function readAtTable(text: string, homeCup: string | null = null, blind = false): Reading {
  return readNote(text, { cups: CUPS, homeCup, blind }, SHIPPED_VOCABULARY);
}

/** What a reading claims, in short: "A lemon", "sour denied", "chocolate slight?". */
export function claims(reading: Reading): readonly string[] {
  return reading.mentions.map(({ cup, attribute, polarity, degree, doubt }) => {
    const words = [
      cup,
      attribute,
      polarity === 'present' ? null : polarity,
      degree === 'plain' ? null : degree,
    ];
    return words.filter((word) => word !== null).join(' ') + (doubt ? '?' : '');
  });
}
