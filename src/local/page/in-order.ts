import type { Answer } from './api.js';

const asked = new Map<string, number>();
const shown = new Map<string, number>();

/**
 * Waits for an answer and says whether it is still news: answers to the same question can overtake each other,
 * and an older one must not bring back what a newer one has already replaced.
 */
export async function inOrder<T>(question: string, answer: Promise<Answer<T>>): Promise<Answer<T> | null> {
  const turn = (asked.get(question) ?? 0) + 1;
  asked.set(question, turn);
  const came = await answer;
  if (turn < (shown.get(question) ?? 0)) return null;
  shown.set(question, turn);
  return came;
}
