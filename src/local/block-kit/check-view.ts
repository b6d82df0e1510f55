import { z } from 'zod';
import { oneFocus, repeatedIds } from './across-blocks.js';
import { HomeBlock, ViewBlock } from './blocks.js';
import { limits } from './limits.js';
import { plainText } from './objects.js';
import { type Problem, problemsOf } from './problems.js';
import { objectIn, objectsIn } from './walk.js';

const ERROR = 'invalid_arguments';
const ShortText = plainText(limits.viewTitle);
const common = {
  private_metadata: z.string().max(limits.privateMetadata).optional(),
  callback_id: z.string().max(limits.id).optional(),
  external_id: z.string().max(limits.id).optional(),
};

const ModalView = z.strictObject({
  type: z.literal('modal'),
  title: ShortText,
  submit: ShortText.nullish(),
  close: ShortText.nullish(),
  blocks: z.array(ViewBlock).max(limits.viewBlocks),
  clear_on_close: z.boolean().optional(),
  notify_on_close: z.boolean().optional(),
  submit_disabled: z.boolean().optional(),
  ...common,
});

const HomeView = z.strictObject({
  type: z.literal('home'),
  blocks: z.array(HomeBlock).max(limits.viewBlocks),
  ...common,
});

const AnyView = z.discriminatedUnion('type', [ModalView, HomeView]);

/** What Slack would refuse in a form or home tab; empty when it would be accepted. */
export function checkView(view: unknown): readonly Problem[] {
  if (Buffer.byteLength(JSON.stringify(view) ?? '') > limits.viewBytes) {
    return [
      {
        error: 'view_too_large',
        pointer: '/view',
        message: `must be no more than ${limits.viewBytes} bytes`,
      },
    ];
  }
  const checked = AnyView.safeParse(view, { reportInput: true });
  if (!checked.success) return problemsOf(ERROR, checked.error.issues, ['view']);
  const blocks = objectsIn(objectIn(view)?.['blocks']);
  return [
    ...repeatedIds(ERROR, blocks, ['view', 'blocks']),
    ...oneFocus(ERROR, blocks),
    ...missingSubmit(checked.data),
  ];
}

function missingSubmit(view: z.infer<typeof AnyView>): Problem[] {
  if (view.type !== 'modal' || view.submit) return [];
  return view.blocks.some((block) => block.type === 'input')
    ? [
        {
          error: ERROR,
          pointer: '/view/submit',
          message: 'missing required field: a form with inputs needs it',
        },
      ]
    : [];
}
