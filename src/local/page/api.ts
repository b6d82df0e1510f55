/** An answer of the workspace, or a sentence on why there is none. */
export type Answer<T> =
  | { readonly ok: true; readonly body: T }
  | { readonly ok: false; readonly code: string; readonly message: string };

const OFFLINE = {
  ok: false,
  code: 'offline',
  message: 'The workspace is not answering. See whether it is still running; your text stays here.',
} as const;

async function ask<T>(path: string, init?: RequestInit): Promise<Answer<T>> {
  try {
    const response = await fetch(path, init);
    if (response.ok) {
      const body: T = await response.json();
      return { ok: true, body };
    }
    const refusal: { readonly error?: string; readonly message?: string } = await response.json();
    return {
      ok: false,
      code: refusal.error ?? 'refused',
      message: refusal.message ?? `The workspace refused this (${response.status}).`,
    };
  } catch {
    return OFFLINE;
  }
}

/** Reads from the workspace. */
export function get<T>(path: string, query: Readonly<Record<string, string>> = {}): Promise<Answer<T>> {
  const search = new URLSearchParams(query).toString();
  return ask<T>(search === '' ? path : `${path}?${search}`);
}

/** Tells the workspace what a person did. */
export function post<T>(path: string, body: object): Promise<Answer<T>> {
  return ask<T>(path, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
}

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
