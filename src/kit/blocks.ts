import type {
  ActionsBlock,
  Button,
  ContextBlock,
  DividerBlock,
  HeaderBlock,
  KnownBlock,
  PlainTextElement,
  SectionBlock,
} from '@slack/types';
import { plain, shorten } from './escape.js';
import type { Message } from './notice.js';

/* Small builders for Block Kit. mrkdwn given to them is already escaped (escape.ts); limits are Slack's. */

const SECTION_LIMIT = 3000;
const BUTTON_LIMIT = 75;

/** Text without markup; what could hide or turn it around is taken out. */
export function plainText(text: string, limit = SECTION_LIMIT): PlainTextElement {
  return { type: 'plain_text', text: shorten(plain(text), limit), emoji: true };
}

export function header(text: string): HeaderBlock {
  return { type: 'header', text: plainText(text, 150) };
}

/** One paragraph; `verbatim` so that nothing inside a name is turned into a link or a call. */
export function section(mrkdwnText: string, accessory?: Button): SectionBlock {
  const text = { type: 'mrkdwn' as const, text: shorten(mrkdwnText, SECTION_LIMIT), verbatim: true };
  return accessory ? { type: 'section', text, accessory } : { type: 'section', text };
}

/** Lines of one list, split over as many sections as Slack's limit needs. */
export function sections(lines: readonly string[]): SectionBlock[] {
  const blocks: SectionBlock[] = [];
  let held = '';
  for (const line of lines) {
    const piece = shorten(line, SECTION_LIMIT);
    if (held && held.length + 1 + piece.length > SECTION_LIMIT) {
      blocks.push(section(held));
      held = piece;
    } else held = held ? `${held}\n${piece}` : piece;
  }
  if (held) blocks.push(section(held));
  return blocks;
}

export function context(...lines: readonly string[]): ContextBlock {
  return {
    type: 'context',
    elements: lines
      .slice(0, 10)
      .map((line) => ({ type: 'mrkdwn', text: shorten(line, SECTION_LIMIT), verbatim: true })),
  };
}

export function divider(): DividerBlock {
  return { type: 'divider' };
}

export type ButtonLook = {
  readonly style?: 'primary' | 'danger';
  readonly confirm?: {
    readonly title: string;
    readonly text: string;
    readonly yes: string;
    readonly no: string;
  };
};

/** `action` may be repeated in a row of buttons: give each its own `#suffix`, which the tap handler never sees. */
export function button(label: string, action: string, value: unknown, look: ButtonLook = {}): Button {
  const { confirm } = look;
  const asked = confirm && {
    title: plainText(confirm.title, 100),
    text: plainText(confirm.text, 300),
    confirm: plainText(confirm.yes, 30),
    deny: plainText(confirm.no, 30),
  };
  return {
    type: 'button',
    text: plainText(label, BUTTON_LIMIT),
    action_id: action,
    value: JSON.stringify(value),
    ...(look.style && { style: look.style }),
    ...(asked && { confirm: asked }),
  };
}

/** Takes something out of use once more is said: what stays of it. */
export function archiveButton(
  feature: string,
  { id, name }: { readonly id: number; readonly name: string },
  thing: string,
  stays: string,
): Button {
  const text = `${plain(name)} leaves the lists. ${stays}`;
  const confirm = { title: `Archive this ${thing}?`, text, yes: 'Archive', no: 'Keep' };
  return button('Archive', `${feature}.archive`, id, { style: 'danger', confirm });
}

/** Buttons in rows of five, as many rows as needed: thumbs first. */
export function buttons(...elements: readonly Button[]): ActionsBlock[] {
  const rows: ActionsBlock[] = [];
  for (let start = 0; start < elements.length; start += 5) {
    rows.push({ type: 'actions', elements: elements.slice(start, start + 5) });
  }
  return rows;
}

/** A menu of things by name (a coffee, a blend) whose choice opens one; it holds at most 100. */
export function menu(
  action: string,
  label: string,
  choices: readonly { readonly id: number; readonly name: string }[],
): ActionsBlock {
  return {
    type: 'actions',
    elements: [
      {
        type: 'static_select',
        action_id: action,
        placeholder: plainText(label, 150),
        options: choices
          .slice(0, 100)
          .map(({ id, name }) => ({ text: plainText(name, 75), value: JSON.stringify(id) })),
      },
    ],
  };
}

/** A message of one sentence, for answers to one person. */
export function say(mrkdwnText: string, ...more: readonly KnownBlock[]): Message {
  // Read aloud without the marks that make it bold.
  const spoken = mrkdwnText.replace(/\*([^*\n]+)\*/g, '$1');
  return { text: shorten(spoken, SECTION_LIMIT), blocks: [section(mrkdwnText), ...more] };
}
