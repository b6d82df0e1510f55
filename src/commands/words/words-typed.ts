import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import { houseVocabulary } from '../common/house-vocabulary.js';
import type { Typed } from '../common/intake.js';
import { exportWords, openImportForm } from './words-csv.js';
import { listWords, openTeachForm, openWord } from './words-forms.js';
import { requireAttribute } from './words-meaning.js';
import { forget, teach } from './words-teach.js';

const TEACHING = /^(.*?)\s*(?:=>|->|→|=|\bmeans\b)\s*(.*)$/su;
const FORGETTING = /^(?:forget|remove|unteach)\s+(.+)$/isu;

/** `words …`: the list, what a word means, teach it, forget it, import and export. */
export async function wordsTyped(deps: Deps, typed: Typed): Promise<Answer> {
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
      return openImportForm();
    default:
  }
  const forgotten = FORGETTING.exec(words)?.[1];
  if (forgotten !== undefined) return forget(deps, who, unquoted(forgotten));
  const teaching = TEACHING.exec(words.replace(/^(?:teach|add)\s+/iu, ''));
  if (!teaching) return openWord(deps, who, unquoted(words).slice(0, 200));
  const [said, means] = [unquoted(teaching[1] ?? ''), unquoted(teaching[2] ?? '')];
  if (said === '' || means === '') return openTeachForm(deps, who, said);
  const vocabulary = await houseVocabulary(deps.db, who.workspace);
  return teach(deps, who, { words: said, attribute: requireAttribute(means, vocabulary) });
}

function unquoted(text: string): string {
  return text
    .trim()
    .replace(/^["'“”„«‘]+|["'“”»’]+$/gu, '')
    .trim();
}
