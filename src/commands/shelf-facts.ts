import { parseMoney } from '../domain/measure/money.js';
import { parseBp } from '../domain/measure/percent.js';
import { LEVELS, PROCESSES, ROLES } from '../domain/record/coffee.js';
import type { CoffeeDraft } from '../notices/shelf-form.js';

/** Facts of a coffee read from words, and the words that are none. */
export type ReadFacts = { readonly draft: CoffeeDraft; readonly left: readonly string[] };

/** Loss the schema of a coffee allows, hundredths of a percent. */
export const MOST_LOSS_BP = 5000;

/**
 * Reads `from Costa Rica natural highlight light alone loss 15 % price 9.40`, in any order. The origin runs
 * to the next word that says something else.
 */
export function readCoffeeFacts(words: readonly string[]): ReadFacts {
  let draft: CoffeeDraft = {};
  const left: string[] = [];
  for (let at = 0; at < words.length; ) {
    const read = readFact(words, at);
    if (read) draft = { ...draft, ...read.draft };
    else left.push(words[at] ?? '');
    at += read?.used ?? 1;
  }
  return { draft, left };
}

/** Whether a word begins a fact, so that a name before it is over. Processes may be part of a name. */
export function beginsFact(words: readonly string[], at: number): boolean {
  const read = readFact(words, at);
  return read !== null && read.draft.process === undefined;
}

type Fact = { readonly draft: CoffeeDraft; readonly used: number };

function readFact(words: readonly string[], at: number): Fact | null {
  const word = lower(words[at]);
  const role = ROLES.find((name) => name === word);
  if (role) return { draft: { role }, used: 1 };
  const process = PROCESSES.find((name) => name === word);
  if (process) return { draft: { process }, used: 1 };
  const level = LEVELS.find((name) => name === word);
  if (level) return { draft: { level }, used: lower(words[at + 1]) === 'roast' ? 2 : 1 };
  if (word === 'alone') return { draft: { soldAlone: true }, used: 1 };
  if (word === 'sold' && lower(words[at + 1]) === 'alone') return { draft: { soldAlone: true }, used: 2 };
  if (word === 'blend-only' || word === 'blends-only') return { draft: { soldAlone: false }, used: 1 };
  if (word === 'only' && lower(words[at + 1]) === 'in') return { draft: { soldAlone: false }, used: 3 };
  if (word === 'loss') return readLoss(words, at);
  if (word === 'price') return readPrice(words, at);
  if (word === 'from' || word === 'origin') return readOrigin(words, at);
  return null;
}

function readLoss(words: readonly string[], at: number): Fact | null {
  const spaced = words[at + 2] === '%';
  const lossBp = parseBp(words[at + 1] ?? '');
  if (lossBp === null || lossBp > MOST_LOSS_BP) return null;
  return { draft: { lossBp }, used: spaced ? 3 : 2 };
}

function readPrice(words: readonly string[], at: number): Fact | null {
  const greenPriceCents = parseMoney((words[at + 1] ?? '').replace(/\/kg$/iu, ''));
  return greenPriceCents === null ? null : { draft: { greenPriceCents }, used: 2 };
}

function readOrigin(words: readonly string[], at: number): Fact | null {
  let end = at + 1;
  while (end < words.length && readFact(words, end) === null) end += 1;
  const origin = words
    .slice(at + 1, end)
    .join(' ')
    .slice(0, 80);
  return origin === '' ? null : { draft: { origin }, used: end - at };
}

function lower(word: string | undefined): string {
  return (word ?? '').toLowerCase().replace(/[.,;]+$/u, '');
}
