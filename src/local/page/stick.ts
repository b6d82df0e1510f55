const NEAR_END = 80;
const seen = new Set<Element>();
let lastErrors = 0;

/** Draws, and keeps message lists at their end when they were there; new lists start at the end. */
export function keepPlace(root: HTMLElement, draw: () => void): void {
  const atEnd = new Set([...lists(root)].filter((list) => isAtEnd(list) || !seen.has(list)));
  draw();
  for (const list of lists(root)) {
    if (atEnd.has(list) || !seen.has(list)) list.scrollTop = list.scrollHeight;
    if (list.querySelector('.slip') !== null) seen.add(list);
  }
  focusFirstError(root);
}

function lists(root: HTMLElement): Iterable<HTMLElement> {
  return root.querySelectorAll<HTMLElement>('[data-stick]');
}

function isAtEnd(list: HTMLElement): boolean {
  return list.scrollHeight - list.scrollTop - list.clientHeight < NEAR_END;
}

/** Leads to the first field that needs another look, once per refusal. */
function focusFirstError(root: HTMLElement): void {
  const wrong = root.querySelectorAll<HTMLElement>('dialog .input-wrong');
  if (wrong.length > 0 && lastErrors === 0) {
    wrong[0]?.querySelector<HTMLElement>('input, textarea, select, summary')?.focus();
    wrong[0]?.scrollIntoView({ block: 'center' });
  }
  lastErrors = wrong.length;
}
