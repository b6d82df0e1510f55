/** Lines and tabs stay. */
const UNSEEN = /[^\P{Cc}\n\t]/gu;

/** The text without the control characters that nobody can see or type. */
export function withoutUnseen(text: string): string {
  return text.replace(UNSEEN, '');
}
