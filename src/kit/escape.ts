/**
 * Text from people, made safe for mrkdwn: the three characters Slack asks for, and a word joiner inside
 * the forms that Slack would otherwise turn into a call to the whole channel or into styling.
 */
export function mrkdwn(text: string): string {
  const tidied = plain(text);
  if (!SPECIAL.test(tidied)) return tidied;
  return withEntities(tidied)
    .replace(/@(here|channel|everyone)/gi, '@\u2060$1')
    .replace(/([*_~`])/g, '$1\u2060');
}

/** The three characters that Slack and SVG ask for as entities, and nothing else. */
export function withEntities(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}

/** The same three back again, once. */
export function withoutEntities(text: string): string {
  return text.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&');
}

/** Every character that one of the replacements begins with; most sentences have none. */
const SPECIAL = /[&<>@*_~`]/;

/** Visible ASCII with single spaces between: nothing to take out, and much quicker to see. */
const IS_TIDY = /^[!-~]+(?: [!-~]+)*$/;

/**
 * Text from people for plain_text, which needs no entities: only what could disguise it is taken out, control,
 * zero-width and direction-changing characters, and white space is folded.
 */
export function plain(text: string): string {
  if (IS_TIDY.test(text)) return text;
  return text
    .replace(/[\p{Cc}\p{Cf}]/gu, (character) =>
      /\s/.test(character) ? ' ' : character === '\u200d' ? character : '',
    )
    .replace(/\s+/g, ' ')
    .trim();
}

/** Control characters; lines and tabs stay. */
const UNSEEN = /[^\P{Cc}\n\t]/gu;

/** The text without the control characters that nobody can see or type. */
export function withoutUnseen(text: string): string {
  return text.replace(UNSEEN, '');
}

/** Shortens to `length` characters with an ellipsis, never inside a surrogate pair. */
export function shorten(text: string, length: number): string {
  if (text.length <= length) return text;
  const cut = text.slice(0, length - 1);
  return `${/[\uD800-\uDBFF]$/.test(cut) ? cut.slice(0, -1) : cut}…`;
}

/** Whole characters up to a limit, an ellipsis where something is left out. */
export function cut(text: string, limit: number): string {
  const characters = [...text];
  return characters.length <= limit ? text : `${characters.slice(0, limit - 1).join('')}…`;
}
