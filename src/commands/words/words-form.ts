import type { InputBlock, ModalView, PlainTextOption } from '@slack/types';
import { context, plainText } from '../../kit/blocks.js';
import { form, INPUT, radioInput, textInput } from '../../kit/form.js';

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
  return {
    type: 'input',
    block_id: 'attribute',
    label: plainText('it means', 200),
    element: {
      type: 'static_select',
      action_id: INPUT,
      placeholder: plainText('Choose an attribute', 150),
      option_groups: families.map(({ family, attributes }) => ({
        label: plainText(family, 75),
        options: attributes.slice(0, 100).map(option),
      })),
      ...(means === null ? {} : { initial_option: option(means) }),
    },
  };
}
