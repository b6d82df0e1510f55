import { remembered } from '../../domain/measure/remembered.js';
import { extendVocabulary, SHIPPED_VOCABULARY, type Vocabulary } from '../../domain/notes/vocabulary.js';
import type { DbOrTransaction } from '../../store/db.js';
import { listHouseWords } from '../../store/house.js';

const laidOut = remembered<Vocabulary>(50);

/** The vocabulary with this house's own words; laid out once and kept while the words stay the same. */
export async function houseVocabulary(db: DbOrTransaction, workspace: string): Promise<Vocabulary> {
  const words = await listHouseWords(db, workspace);
  if (words.length === 0) return SHIPPED_VOCABULARY;
  const key = JSON.stringify(words.map((word) => [word.words, word.attribute]));
  return laidOut(key, () => extendVocabulary(SHIPPED_VOCABULARY, words).vocabulary);
}
