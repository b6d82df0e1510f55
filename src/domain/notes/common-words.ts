import { z } from 'zod';
import commonWordsJson from './common-words.json' with { type: 'json' };

const commonWordsSchema = z.strictObject({ source: z.string(), licence: z.string(), words: z.string() });

/**
 * Common English words, folded, none of them of the vocabulary: a word found here is no misspelling of a
 * taste. The file names its source.
 */
export const COMMON_WORDS: ReadonlySet<string> = new Set(
  commonWordsSchema.parse(commonWordsJson).words.split(' '),
);
