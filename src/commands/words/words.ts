import type { Feature } from '../common/feature.js';
import { exportTap, importSubmitted, openImportForm } from './words-csv.js';
import { forgetTap, listTap, openTap, replaceTap, teachSubmitted, teachTap } from './words-forms.js';
import { wordsTyped } from './words-typed.js';

/** The vocabulary: what a word means in this house, and how it is taught. */
export const words: Feature = {
  verb: {
    name: 'words',
    does: 'The vocabulary: what a word means here, teach a new one',
    example: '/spoon words "sugarcane juice" = cane sugar',
    run: wordsTyped,
  },
  taps: new Map([
    ['words.list', listTap],
    ['words.open', openTap],
    ['words.teach', teachTap],
    ['words.replace', replaceTap],
    ['words.forget', forgetTap],
    ['words.export', exportTap],
    ['words.import', async () => openImportForm()],
  ]),
  forms: new Map([
    ['words.teach', teachSubmitted],
    ['words.import', importSubmitted],
  ]),
};
