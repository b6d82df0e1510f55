import { nameToEmoji } from '../vendor/gemoji.js';

// Names that chat uses beside the common ones.
const OTHER_NAMES = new Map([
  ['thinking_face', '🤔'],
  ['face_with_monocle', '🧐'],
  ['scales', '⚖️'],
  ['glass_of_milk', '🥛'],
  ['star-struck', '🤩'],
  ['large_green_circle', '🟢'],
  ['large_yellow_circle', '🟡'],
  ['large_orange_circle', '🟠'],
  ['large_purple_circle', '🟣'],
  ['large_brown_circle', '🟤'],
]);

/** What the reaction picker offers, most useful at a table first. */
export const QUICK_REACTIONS = ['+1', 'yum', 'eyes', 'heart', 'fire', 'thinking_face', 'tada'];

/** The character for a shortcode, or undefined when there is none. */
export function emojiFor(name: string): string | undefined {
  return OTHER_NAMES.get(name) ?? (Object.hasOwn(nameToEmoji, name) ? nameToEmoji[name] : undefined);
}

/** Text with its known shortcodes turned into characters. */
export function withEmoji(text: string): string {
  return text.replace(/:([a-z0-9_+-]+):/g, (code, name: string) => emojiFor(name) ?? code);
}

/** What to show for a reaction's name: its character, else the shortcode itself. */
export function emojiOrName(name: string): string {
  return emojiFor(name) ?? `:${name}:`;
}
