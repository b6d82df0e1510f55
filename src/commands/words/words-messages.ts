import type { Button, InputBlock, ModalView, PlainTextOption } from '@slack/types';
import { counted, plainList } from '../../domain/measure/plain-list.js';
import { button, buttons, context, header, plainText, say, section, sections } from '../../kit/blocks.js';
import { mrkdwn, withEntities } from '../../kit/escape.js';
import { form, input, radioInput, textInput } from '../../kit/form.js';
import type { Message } from '../../kit/notice.js';

/** What some words mean in this house. */
export type WordShown = {
  /** As they are read: small letters, plain quotes. */
  readonly words: string;
  /** Null when they mean nothing yet. */
  readonly meaning: {
    readonly attribute: string;
    readonly family: string;
    readonly subfamily: string | null;
    /** Who taught it here and when; null when it is in everybody's vocabulary. */
    readonly taught: { readonly by: string; readonly day: string } | null;
    /** Other words for the same attribute, those of this house first. */
    readonly others: readonly string[];
  } | null;
};

const MOST_OTHERS = 8;
const TAUGHT_HERE = button('Words taught here', 'words.list', { from: 0 });

/** One word and its meaning, with the next likely steps. */
export function wordCardMessage(shown: WordShown, done?: string): Message {
  const { words, meaning } = shown;
  const said = `“${mrkdwn(words)}”`;
  if (meaning === null) {
    const sentence = `I do not know ${said} yet, so it is kept in the note and counted for nothing.`;
    return say(
      done ?? sentence,
      ...buttons(button('Teach it', 'words.teach', { words }, { style: 'primary' }), TAUGHT_HERE),
    );
  }
  const { attribute, family, subfamily, taught, others } = meaning;
  const place = [family, subfamily].filter((name) => name !== null && name !== attribute).join(' › ');
  const sentence = `${said} means *${mrkdwn(attribute)}*${taught ? ' here' : ''}.`;
  const facts = [
    place === '' ? '' : `Family: ${mrkdwn(place)}`,
    taught ? `Taught by ${person(taught.by)}, ${taught.day}` : 'Part of everybody’s vocabulary',
    others.length > 0 ? `Also said: ${mrkdwn(plainList(others.slice(0, MOST_OTHERS), 'or'))}` : '',
  ];
  return {
    text: `${done ? `${done} ` : ''}${sentence}`,
    blocks: [
      ...(done ? [section(done)] : []),
      section(sentence),
      context(...facts.filter((fact) => fact !== '')),
      ...buttons(
        ...(taught
          ? [
              button('Change its meaning', 'words.teach', { words }),
              button('Forget it', 'words.forget', words, { style: 'danger' }),
            ]
          : []),
        TAUGHT_HERE,
      ),
    ],
  };
}

/** Somebody wants a word to mean something else than it does here: shown, never overwritten. */
export function wordConflictMessage(words: string, means: string, wanted: string): Message {
  const sentence = `“${mrkdwn(words)}” means *${mrkdwn(means)}* here. Shall it mean *${mrkdwn(wanted)}* from now on?`;
  return {
    text: sentence,
    blocks: [
      section(sentence),
      ...buttons(
        button('Replace it', 'words.replace', { words, attribute: wanted }, { style: 'primary' }),
        button('Keep it', 'words.open', words),
      ),
    ],
  };
}

function person(by: string): string {
  return /^[UW][A-Z0-9]+$/u.test(by) ? `<@${by}>` : 'somebody';
}

/** As many words as a phone shows without tiring. */
const WORDS_PAGE = 20;

/** The words this house has taught, a page at a time. */
export function wordListMessage(words: readonly { words: string; attribute: string }[], from = 0): Message {
  if (words.length === 0) return noWords();
  const page = words.slice(from, from + WORDS_PAGE);
  const title = `${counted(words.length, 'word')} taught here`;
  return {
    text: title,
    blocks: [
      header(title),
      ...sections(page.map((word) => `• “${mrkdwn(word.words)}” means *${mrkdwn(word.attribute)}*`)),
      context('One word: `/spoon words "sugarcane juice"`'),
      ...buttons(
        button('Teach a word', 'words.teach', {}),
        ...nextPage('words.list', from, words.length, WORDS_PAGE),
        button('Export', 'words.export', { from: 0 }),
        button('Import', 'words.import', {}),
      ),
    ],
  };
}

/** The button for the page after the one that begins at `from`; none after the last. */
function nextPage(action: string, from: number, all: number, size: number): readonly Button[] {
  const later = all - from - size;
  return later > 0 ? [button(`Next ${Math.min(later, size)}`, action, { from: from + size })] : [];
}

function noWords(): Message {
  return say(
    'No word was taught here yet. I know the trade’s vocabulary; teach me how this house says it.',
    context('By words: `/spoon words "sugarcane juice" = cane sugar`'),
    ...buttons(
      button('Teach a word', 'words.teach', {}, { style: 'primary' }),
      button('Import', 'words.import', {}),
    ),
  );
}

/** Lines of a table of words (CSV), to copy; long ones over several blocks, longer ones page by page. */
export function wordExportMessage(lines: readonly string[], from = 0): Message {
  const [head = '', ...rows] = lines;
  const page = rows.slice(from, from + EXPORT_PAGE);
  const title =
    page.length < rows.length
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
      ...buttons(...nextPage('words.export', from, rows.length, EXPORT_PAGE), TAUGHT_HERE),
    ],
  };
}

/** Rows per block and per message: even the longest words stay within Slack's limits. */
const EXPORT_BLOCK = 20;
const EXPORT_PAGE = 80;

/** Inside a code block only the three entities and the closing fence need care. */
function code(text: string): string {
  return withEntities(text).replaceAll('```', '`\u2060``');
}

/** What came of one row of an import. */
export type ImportOutcome = { readonly words: string; readonly attribute: string } & (
  | { readonly kind: 'taught' | 'known' }
  | { readonly kind: 'left'; readonly why: string }
);

const MOST_SHOWN = 25;

/** How an import went: how many were taught, and which were left and why. */
export function wordImportMessage(outcomes: readonly ImportOutcome[], again: string): Message {
  const count = (kind: ImportOutcome['kind']) => outcomes.filter((outcome) => outcome.kind === kind).length;
  const known = count('known');
  const left = outcomes.flatMap((outcome) => (outcome.kind === 'left' ? [outcome] : []));
  const lines = left
    .slice(0, MOST_SHOWN)
    .map((row) => `• “${mrkdwn(row.words)}” = ${mrkdwn(row.attribute)}: ${mrkdwn(row.why)}`);
  const sentence = [
    `Taught ${counted(count('taught'), 'word')}.`,
    known > 0 ? `${counted(known, 'word')} meant the same already.` : '',
    again,
  ]
    .filter((part) => part !== '')
    .join(' ');
  return {
    text: left.length > 0 ? `${sentence} Left ${left.length}.` : sentence,
    blocks: [
      section(sentence),
      ...sections(left.length > 0 ? [`*Left as they are: ${left.length}*`, ...lines] : []),
      ...(left.length > MOST_SHOWN ? [context(`and ${left.length - MOST_SHOWN} more`)] : []),
      ...buttons(TAUGHT_HERE),
    ],
  };
}

/** Attributes of one family, for a menu. */
export type AttributeFamily = { readonly family: string; readonly attributes: readonly string[] };

/** Teaches what some words mean. */
export function teachForm(
  words: string,
  families: readonly AttributeFamily[],
  means: string | null,
): ModalView {
  return form('words.teach', 'Teach a word', 'Teach', [
    textInput('words', 'When somebody writes', {
      limit: 60,
      placeholder: 'sugarcane juice',
      initial: words,
    }),
    attributeInput(families, means),
    context('It acts at once, also on the notes of tables that are not decided yet.'),
  ]);
}

/** Brings in words from elsewhere, one per line. */
export function importForm(): ModalView {
  return form('words.import', 'Import words', 'Import', [
    textInput('csv', 'Words and attributes, one pair per line', {
      lines: true,
      placeholder: 'words,attribute\nsugarcane juice,cane sugar',
      hint: 'Paste what Export gave, or two columns of a spreadsheet saved as CSV.',
    }),
    radioInput(
      'clash',
      'When a word means something else here',
      [
        { label: 'Leave it and tell me', value: 'leave' },
        { label: 'Replace its meaning', value: 'replace' },
      ],
      { initial: 'leave' },
    ),
  ]);
}

function attributeInput(families: readonly AttributeFamily[], means: string | null): InputBlock {
  const option = (attribute: string): PlainTextOption => ({
    text: plainText(attribute, 75),
    value: attribute,
  });
  return input('attribute', 'it means', {
    type: 'static_select',
    placeholder: plainText('Choose an attribute', 150),
    option_groups: families.map(({ family, attributes }) => ({
      label: plainText(family, 75),
      options: attributes.slice(0, 100).map(option),
    })),
    ...(means === null ? {} : { initial_option: option(means) }),
  });
}
