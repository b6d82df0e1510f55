import { z } from 'zod';
import { findAttribute } from '../../domain/notes/vocabulary.js';
import { listHouseWords } from '../../store/house.js';
import type { Answer, Deps, Feature, SubmitAnswer } from '../common/bot.js';
import {
  chosen,
  Page,
  readValue,
  type Submission,
  type Tap,
  type Typed,
  type Who,
  written,
} from '../common/intake.js';
import { houseVocabulary } from '../common/table-notes.js';
import { attributeFamilies, forget, teach, wordShown } from './teach-words.js';
import { exportWords, importSubmitted } from './words-csv.js';
import { importForm, teachForm, wordCardMessage, wordListMessage } from './words-messages.js';

/** The vocabulary: what a word means in this house, and how it is taught. */
export const words: Feature = {
  verb: {
    name: 'words',
    does: 'The vocabulary: what a word means here, teach a new one',
    example: '/spoon words "sugarcane juice" = cane sugar',
    run: wordsTyped,
  },
  taps: {
    'words.list': {
      for: 'look',
      run: (deps, tap) => listWords(deps, tap.who, readValue(Page, tap.value).from),
    },
    'words.open': { for: 'look', run: (deps, tap) => openWord(deps, tap.who, readValue(Words, tap.value)) },
    'words.teach': { for: 'teach words', run: teachTap },
    'words.replace': { for: 'teach words', run: replaceTap },
    'words.forget': {
      for: 'teach words',
      run: (deps, tap) => forget(deps, tap.who, readValue(Words, tap.value)),
    },
    'words.export': {
      for: 'look',
      run: (deps, tap) => exportWords(deps, tap.who, readValue(Page, tap.value).from),
    },
    'words.import': { for: 'teach words', run: async () => ({ form: importForm() }) },
  },
  forms: {
    'words.teach': { for: 'teach words', run: teachSubmitted },
    'words.import': { for: 'teach words', run: importSubmitted },
  },
  subjects: {},
};

const TEACHING = /^(.*?)\s*(?:=>|->|→|=|\bmeans\b)\s*(.*)$/su;
const FORGETTING = /^(?:forget|remove|unteach)\s+(.+)$/isu;

/** `words …`: the list, what a word means, teach it, forget it, import and export. */
async function wordsTyped(deps: Deps, typed: Typed): Promise<Answer> {
  const { who } = typed;
  const words = typed.words.trim();
  switch (words.toLowerCase()) {
    case '':
    case 'list':
      return listWords(deps, who);
    case 'teach':
    case 'add':
      return openTeachForm(deps, who, '');
    case 'export':
      return exportWords(deps, who, 0);
    case 'import':
      return { form: importForm() };
    default:
  }
  const forgotten = FORGETTING.exec(words)?.[1];
  if (forgotten !== undefined) return forget(deps, who, unquoted(forgotten));
  const teaching = TEACHING.exec(words.replace(/^(?:teach|add)\s+/iu, ''));
  if (!teaching) return openWord(deps, who, unquoted(words).slice(0, 200));
  const [said, means] = [unquoted(teaching[1] ?? ''), unquoted(teaching[2] ?? '')];
  if (said === '' || means === '') return openTeachForm(deps, who, said);
  return teach(deps, who, { words: said, attribute: means });
}

function unquoted(text: string): string {
  return text
    .trim()
    .replace(/^["'“”„«‘]+|["'“”»’]+$/gu, '')
    .trim();
}

const Words = z.string().max(200);

/** The words taught here. */
async function listWords(deps: Deps, who: Who, from = 0): Promise<Answer> {
  const words = await listHouseWords(deps.db, who.workspace);
  return { message: wordListMessage(words, from < words.length ? from : 0) };
}

/** What one word means. */
async function openWord(deps: Deps, who: Who, words: string): Promise<Answer> {
  return { message: wordCardMessage(await wordShown(deps.db, who.workspace, words)) };
}

/** The form that teaches a word, with what is already known filled in. */
async function openTeachForm(deps: Deps, who: Who, words: string): Promise<Answer> {
  const vocabulary = await houseVocabulary(deps.db, who.workspace);
  const means = words === '' ? null : findAttribute(vocabulary, words);
  return { form: teachForm(words.slice(0, 60), attributeFamilies(vocabulary), means) };
}

/** The button that teaches a word. */
async function teachTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { words } = readValue(z.object({ words: Words.optional() }), tap.value);
  return openTeachForm(deps, tap.who, words ?? '');
}

/** Teaches what the form says. */
async function teachSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  return teach(deps, who, { words: written(form, 'words'), attribute: chosen(form, 'attribute')[0] ?? '' });
}

/** Replaces what a word meant here, after the conflict was shown. */
async function replaceTap(deps: Deps, tap: Tap): Promise<Answer> {
  return teach(deps, tap.who, readValue(z.object({ words: Words, attribute: Words }), tap.value), true);
}
