/*
 * What must not be in anything the bot shows, whatever people called their coffees: calls and links that we did
 * not write, and characters that hide or turn around what is read.
 */

/** The only forms in angle brackets that we write ourselves. */
const OURS = /<(?:@U[A-Z0-9]+|#C[A-Z0-9]+)>/g;

/** What is unsafe in a message, a form or a call's arguments, with where it stands. */
export function unsafeIn(payload: unknown, path = ''): readonly string[] {
  if (typeof payload === 'string') return path.endsWith('.text') ? faultsOf(payload, path) : [];
  if (Array.isArray(payload)) return payload.flatMap((one, index) => unsafeIn(one, `${path}[${index}]`));
  if (typeof payload !== 'object' || payload === null) return [];
  const held: Readonly<Record<string, unknown>> = { ...payload };
  const { type, text } = held;
  if (typeof text === 'string' && type === 'plain_text') return hidden(text, path);
  if (typeof text === 'string' && type === 'mrkdwn' && held['verbatim'] !== true)
    return [`${path}: not verbatim, so names in it are linked: ${text.slice(0, 80)}`];
  return Object.entries(held).flatMap(([key, value]) => unsafeIn(value, `${path}.${key}`));
}

function faultsOf(text: string, path: string): readonly string[] {
  const rest = text.replace(OURS, (form) => (form.includes('EVIL') ? form : ''));
  const faults = [...hidden(text, path)];
  if (/[<>]/.test(rest)) faults.push(`${path}: a form we did not write: ${around(rest, /[<>]/)}`);
  if (/@(?:here|channel|everyone)/i.test(text)) faults.push(`${path}: calls everybody: ${around(text, /@/)}`);
  return faults;
}

/** Direction marks, zero-width and control characters; the joiners that we put in ourselves are none. */
function hidden(text: string, path: string): readonly string[] {
  const found = /[^\P{Cf}\u2060\u200d]|[^\P{Cc}\n]/u.exec(text);
  return found
    ? [`${path}: hides U+${found[0].codePointAt(0)?.toString(16)} in: ${around(text, found[0])}`]
    : [];
}

function around(text: string, at: RegExp | string): string {
  const index = text.search(typeof at === 'string' ? new RegExp(at, 'u') : at);
  return text.slice(Math.max(0, index - 30), index + 60);
}
