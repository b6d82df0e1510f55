/** Where the table stood when words were written. */
export type Stage = 'open' | 'closed for now' | 'reopened' | 'closed';

/** A message of the script in one of the table's threads, as it should stand in the end. */
export type ExpectedNote = {
  readonly ts: string;
  readonly thread: string;
  readonly person: string;
  readonly stage: Stage;
  text: string;
  gone: boolean;
  /** Attributes by cup label that the words claim; null where the script does not say. */
  claims: readonly (readonly [cup: string, attribute: string])[] | null;
};

/** What the script did, against which the run is judged. */
export type Expected = {
  readonly notes: Map<string, ExpectedNote>;
  /** Words that were never the bot's business. */
  readonly secrets: string[];
  /** What the host and the roaster brought about, in their own words. */
  readonly done: string[];
};

export function nothingYet(): Expected {
  return { notes: new Map(), secrets: [], done: [] };
}

/** How each of them begins. */
export const SECRET_BEGINS = 'zqhush';

/** A word that occurs nowhere else, to be looked for in the bot's files. */
export function nextSecret(world: { readonly seed: number; readonly expected: Expected }): string {
  const word = `${SECRET_BEGINS}${world.seed}x${world.expected.secrets.length}zq`;
  world.expected.secrets.push(word);
  return word;
}
