const NEAR_END = 80;
const leftEnd = new WeakSet<Element>();
const lastTop = new WeakMap<Element, number>();
let wrongBefore = 0;

/**
 * Keeps message lists at their end while they are there: when messages come, when pictures arrive and the list
 * grows, when the keyboard of a phone opens. A list someone has scrolled back in stays where it is.
 */
export function watchEnds(root: HTMLElement): void {
  root.addEventListener(
    'scroll',
    ({ target }) => {
      if (target instanceof HTMLElement && target.matches('[data-stick]')) noteScroll(target);
    },
    true,
  );
  root.addEventListener('load', () => stick(root), true);
  window.addEventListener('resize', () => stick(root));
}

/** Keeps lists at their end and leads to what is wrong, after each drawing. */
export function afterDrawing(root: HTMLElement): void {
  stick(root);
  focusFirstError(root);
}

function stick(root: HTMLElement): void {
  for (const list of root.querySelectorAll<HTMLElement>('[data-stick]')) {
    noteScroll(list);
    if (leftEnd.has(list)) continue;
    list.scrollTop = Math.max(list.scrollTop, endOf(list));
    lastTop.set(list, list.scrollTop);
  }
}

/** The end of a list; a last message taller than the screen is shown from its beginning. */
function endOf(list: HTMLElement): number {
  const last = [...list.children].at(-1);
  const bottom = list.scrollHeight - list.clientHeight;
  if (!(last instanceof HTMLElement)) return bottom;
  return Math.min(bottom, last.offsetTop - list.offsetTop - 8);
}

/** Only going up leaves the end: a list that grew is further from it, but nobody scrolled. */
function noteScroll(list: HTMLElement): void {
  if (isAtEnd(list)) leftEnd.delete(list);
  else if (list.scrollTop < (lastTop.get(list) ?? 0)) leftEnd.add(list);
  lastTop.set(list, list.scrollTop);
}

function isAtEnd(list: HTMLElement): boolean {
  return list.scrollHeight - list.scrollTop - list.clientHeight < NEAR_END;
}

/** Leads to the first field that needs another look, once per refusal. */
function focusFirstError(root: HTMLElement): void {
  const wrong = root.querySelectorAll<HTMLElement>('dialog .input-wrong');
  if (wrong.length > 0 && wrongBefore === 0) {
    wrong[0]?.querySelector<HTMLElement>('input, textarea, select, summary')?.focus();
    wrong[0]?.scrollIntoView({ block: 'center' });
  }
  wrongBefore = wrong.length;
}
