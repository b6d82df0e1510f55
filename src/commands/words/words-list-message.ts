import { counted } from '../../domain/measure/plain-list.js';
import { button, buttons, context, header, section, sections } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';

/** A taught word as a list shows it. */
export type WordLine = { readonly words: string; readonly attribute: string };

/** As many words as a phone shows without tiring. */
const WORDS_PAGE = 20;

/** The words this house has taught, a page at a time. */
export function wordListMessage(words: readonly WordLine[], from = 0): Message {
  if (words.length === 0) return noWords();
  const page = words.slice(from, from + WORDS_PAGE);
  const later = words.length - from - page.length;
  const title = `${counted(words.length, 'word')} taught here`;
  return {
    text: title,
    blocks: [
      header(title),
      ...sections(page.map((word) => `• “${mrkdwn(word.words)}” means *${mrkdwn(word.attribute)}*`)),
      context('One word: `/spoon words "sugarcane juice"`'),
      ...buttons(
        button('Teach a word', 'words.teach', {}),
        ...(later > 0
          ? [button(`Next ${Math.min(later, WORDS_PAGE)}`, 'words.list', { from: from + WORDS_PAGE })]
          : []),
        button('Export', 'words.export', { from: 0 }),
        button('Import', 'words.import', {}),
      ),
    ],
  };
}

function noWords(): Message {
  const sentence =
    'No word was taught here yet. I know the trade’s vocabulary; teach me how this house says it.';
  return {
    text: sentence,
    blocks: [
      section(sentence),
      context('By words: `/spoon words "sugarcane juice" = cane sugar`'),
      ...buttons(
        button('Teach a word', 'words.teach', {}, { style: 'primary' }),
        button('Import', 'words.import', {}),
      ),
    ],
  };
}

/** Lines of a table of words (CSV), to copy; long ones over several blocks, longer ones page by page. */
export function wordExportMessage(lines: readonly string[], from = 0): Message {
  const [head = '', ...rows] = lines;
  const page = rows.slice(from, from + EXPORT_PAGE);
  const later = rows.length - from - page.length;
  const title =
    later > 0 || from > 0
      ? `Words ${from + 1} to ${from + page.length} of ${rows.length}`
      : 'All words taught here';
  const blocks: string[] = [];
  for (let at = 0; at < page.length; at += EXPORT_BLOCK) {
    const first = at === 0 ? [head] : [];
    blocks.push([...first, ...page.slice(at, at + EXPORT_BLOCK)].join('\n'));
  }
  return {
    text: `${title}, to copy`,
    blocks: [
      section(`*${title}*, to copy into a file that ends in .csv`),
      ...blocks.map((text) => section(`\`\`\`\n${code(text)}\n\`\`\``)),
      ...buttons(
        ...(later > 0
          ? [button(`Next ${Math.min(later, EXPORT_PAGE)}`, 'words.export', { from: from + EXPORT_PAGE })]
          : []),
        button('Words taught here', 'words.list', { from: 0 }),
      ),
    ],
  };
}

/** Rows per block and per message: even the longest words stay within Slack's limits. */
const EXPORT_BLOCK = 20;
const EXPORT_PAGE = 80;

/** Inside a code block only the three entities and the closing fence need care. */
function code(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('```', '`\u2060``');
}
