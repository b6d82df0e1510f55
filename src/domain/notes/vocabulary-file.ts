import { z } from 'zod';
import vocabularyJson from './vocabulary.json' with { type: 'json' };

const words = z.string().trim().min(1);

const attributeSchema = z.strictObject({
  name: words,
  family: words,
  subfamily: words.nullable(),
  kind: z.enum([
    'aroma-flavour',
    'taste',
    'mouthfeel',
    'body',
    'acidity',
    'sweetness',
    'aftertaste',
    'defect',
    'overall',
  ]),
  source: z.array(words).min(1),
  words: z.array(words),
});

/**
 * The shape of the vocabulary file: attributes with their family, subfamily, kind, where the name comes
 * from, and the words tasters use for them. Checked: no name twice, no word claimed by two attributes, no
 * family that is also one of its own subfamilies.
 */
export const vocabularyFileSchema = z
  .strictObject({ attributes: z.array(attributeSchema).min(1) })
  .superRefine(({ attributes }, context) => {
    const owners = new Map<string, string>();
    for (const { name, family, subfamily, words: synonyms } of attributes) {
      if (family === subfamily) context.addIssue(`"${name}": family and subfamily are both "${family}"`);
      for (const word of [name, ...synonyms]) {
        const owner = owners.get(word);
        if (owner !== undefined) context.addIssue(`"${word}" is claimed by "${owner}" and by "${name}"`);
        owners.set(word, name);
      }
    }
    addCycles(attributes, (message) => context.addIssue(message));
  });

export type VocabularyFile = z.output<typeof vocabularyFileSchema>;
export type VocabularyEntry = VocabularyFile['attributes'][number];

/** The vocabulary as shipped, checked when it is loaded. Throws a ZodError when the file breaks a rule. */
export function shippedVocabulary(): VocabularyFile {
  return vocabularyFileSchema.parse(vocabularyJson);
}

/** A name used as a family in one place may not sit below one of its own members in another. */
function addCycles(entries: readonly VocabularyEntry[], report: (message: string) => void): void {
  const above = new Map<string, Set<string>>();
  for (const { family, subfamily } of entries) {
    if (subfamily !== null) above.set(subfamily, (above.get(subfamily) ?? new Set()).add(family));
  }
  for (const start of above.keys()) {
    // What is added to a set while it is gone through is gone through as well.
    const reached = new Set(above.get(start));
    for (const name of reached) for (const next of above.get(name) ?? []) reached.add(next);
    if (reached.has(start)) report(`"${start}" is above itself`);
  }
}
