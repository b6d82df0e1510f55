import type { Channel } from './api-types.js';
import type { Context } from './context.js';
import { messageChanged, messageDeleted } from './deliver/message-events.js';
import { announce } from './posting.js';
import { repliesOf, rewriteMessage, type StoredMessage } from './state/messages.js';

/** Slack's stand-in for the deleted parent of a thread whose replies stay. */
const TOMBSTONE = { subtype: 'tombstone', text: 'This message was deleted.' } as const;

/** Deletes a message; a parent with replies leaves a tombstone and is told as a change. */
export function removeMessage(ctx: Context, channel: Channel, before: StoredMessage): void {
  ctx.db.transaction(() => {
    if (repliesOf(ctx.db, channel.id, before.ts).count === 0) {
      rewriteMessage(ctx.db, { ...before, text: '', blocks: [], metadata: null, state: 'deleted' });
      if (before.ephemeralTo === null) messageDeleted(ctx, channel, before);
      return;
    }
    const kept = { ...before, text: TOMBSTONE.text, blocks: [], files: [], metadata: null, editedTs: null };
    const after: StoredMessage = { ...kept, subtype: TOMBSTONE.subtype, state: 'tombstone' };
    rewriteMessage(ctx.db, after);
    messageChanged(ctx, channel, before, after);
  })();
  announce(ctx, before);
}
