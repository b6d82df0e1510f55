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
  taps: {
    'words.list': { for: 'look', run: listTap },
    'words.open': { for: 'look', run: openTap },
    'words.teach': { for: 'teach words', run: teachTap },
    'words.replace': { for: 'teach words', run: replaceTap },
    'words.forget': { for: 'teach words', run: forgetTap },
    'words.export': { for: 'look', run: exportTap },
    'words.import': { for: 'teach words', run: async () => openImportForm() },
  },
  forms: {
    'words.teach': { for: 'teach words', run: teachSubmitted },
    'words.import': { for: 'teach words', run: importSubmitted },
  },
  subjects: {},
};
