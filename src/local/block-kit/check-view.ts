import { z } from 'zod';
import { objectIn, objectsIn } from '../json.js';
import { ViewBlock } from './blocks.js';
import { limits } from './limits.js';
import { plainText } from './objects.js';
import { type Problem, problemsOf } from './problems.js';
import { repeatedIds } from './walk.js';

const ERROR = 'invalid_arguments';
const ShortText = plainText(limits.viewTitle);
const common = {
  blocks: z.array(ViewBlock).max(limits.viewBlocks),
  private_metadata: z.string().max(limits.privateMetadata).optional(),
  callback_id: z.string().max(limits.id).optional(),
};

const View = z.discriminatedUnion('type', [
  z.strictObject({
    type: z.literal('modal'),
    title: ShortText,
    submit: ShortText.nullish(),
    close: ShortText.nullish(),
    clear_on_close: z.boolean().optional(),
    notify_on_close: z.boolean().optional(),
    ...common,
  }),
  z.strictObject({ type: z.literal('home'), ...common }),
]);

/** What Slack would refuse in a form or home tab; empty when it would be accepted. */
export function checkView(view: unknown): readonly Problem[] {
  if (Buffer.byteLength(JSON.stringify(view) ?? '') > limits.viewBytes) {
    const message = `must be no more than ${limits.viewBytes} bytes`;
    return [{ error: 'view_too_large', pointer: '/view', message }];
  }
  const checked = View.safeParse(view, { reportInput: true });
  if (!checked.success) return problemsOf(ERROR, checked.error.issues, ['view']);
  const blocks = objectsIn(objectIn(view)?.['blocks']);
  return [...repeatedIds(ERROR, blocks, ['view', 'blocks']), ...missingSubmit(checked.data)];
}

function missingSubmit(view: z.infer<typeof View>): Problem[] {
  if (view.type !== 'modal' || view.submit || !view.blocks.some((block) => block.type === 'input')) return [];
  const message = 'missing required field: a form with inputs needs it';
  return [{ error: ERROR, pointer: '/view/submit', message }];
}
