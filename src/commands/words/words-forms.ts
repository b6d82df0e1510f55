import { z } from 'zod';
import { findAttribute } from '../../domain/notes/vocabulary.js';
import { listHouseWords } from '../../store/house-words.js';
import type { Answer, SubmitAnswer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import { chosen, written } from '../common/form-values.js';
import { houseVocabulary } from '../common/house-vocabulary.js';
import type { Submission, Tap } from '../common/intake.js';
import { readValue } from '../common/values.js';
import type { Who } from '../common/who.js';
import { wordCardMessage } from './words-card-message.js';
import { teachForm } from './words-form.js';
import { wordListMessage } from './words-list-message.js';
import { attributeFamilies, requireAttribute, wordShown } from './words-meaning.js';
import { forget, teach } from './words-teach.js';

const Page = z.object({ from: z.number().int().nonnegative() });
const Words = z.string().max(200);

/** The words taught here. */
export async function listWords(deps: Deps, who: Who, from = 0): Promise<Answer> {
  const words = await listHouseWords(deps.db, who.workspace);
  return { message: wordListMessage(words, from < words.length ? from : 0) };
}

/** The next page of the list. */
export async function listTap(deps: Deps, tap: Tap): Promise<Answer> {
  return listWords(deps, tap.who, readValue(Page, tap.value).from);
}

/** What one word means. */
export async function openWord(deps: Deps, who: Who, words: string): Promise<Answer> {
  return { message: wordCardMessage(await wordShown(deps.db, who.workspace, words)) };
}

/** One word, from a button. */
export async function openTap(deps: Deps, tap: Tap): Promise<Answer> {
  return openWord(deps, tap.who, readValue(Words, tap.value));
}

/** The form that teaches a word, with what is already known filled in. */
export async function openTeachForm(deps: Deps, who: Who, words: string): Promise<Answer> {
  const vocabulary = await houseVocabulary(deps.db, who.workspace);
  const means = words === '' ? null : findAttribute(vocabulary, words);
  return { form: teachForm(words.slice(0, 60), attributeFamilies(vocabulary), means) };
}

/** The button that teaches a word. */
export async function teachTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { words } = readValue(z.object({ words: Words.optional() }), tap.value);
  return openTeachForm(deps, tap.who, words ?? '');
}

/** Teaches what the form says. */
export async function teachSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const vocabulary = await houseVocabulary(deps.db, who.workspace);
  const attribute = requireAttribute(chosen(form, 'attribute')[0] ?? '', vocabulary);
  return teach(deps, who, { words: written(form, 'words'), attribute });
}

/** Replaces what a word meant here, after the conflict was shown. */
export async function replaceTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { words, attribute } = readValue(z.object({ words: Words, attribute: Words }), tap.value);
  const vocabulary = await houseVocabulary(deps.db, tap.who.workspace);
  return teach(deps, tap.who, { words, attribute: requireAttribute(attribute, vocabulary) }, true);
}

/** Forgets a word, from its card. */
export async function forgetTap(deps: Deps, tap: Tap): Promise<Answer> {
  return forget(deps, tap.who, readValue(Words, tap.value));
}
