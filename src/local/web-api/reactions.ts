import { z } from 'zod';
import type { Context } from '../context.js';
import { tellReaction } from '../reacting.js';
import { SlackError } from '../refusals.js';
import { addReaction, removeReaction } from '../state/reactions.js';
import { type Method, method, type Reply } from './method.js';
import { joinedChannel, publicMessage } from './places.js';

const React = z.looseObject({
  channel: z.string().min(1),
  timestamp: z.string().min(1),
  name: z.string().min(1),
});

function change(kind: 'added' | 'removed'): (ctx: Context, args: z.output<typeof React>) => Reply {
  return (ctx, args) => {
    const name = args.name.replaceAll(/^:|:$/g, '');
    if (!/^[a-z0-9_+'-]+(::skin-tone-[2-6])?$/.test(name)) throw new SlackError('invalid_name');
    const channel = joinedChannel(ctx, args.channel);
    if (channel.isArchived) throw new SlackError('is_archived');
    const message = publicMessage(ctx, channel.id, args.timestamp);
    const bot = ctx.identity.botUserId;
    ctx.db.transaction(() => {
      const changed =
        kind === 'added'
          ? addReaction(ctx.db, channel.id, message.ts, name, bot, ctx.clock.now().getTime())
          : removeReaction(ctx.db, channel.id, message.ts, name, bot);
      if (!changed) throw new SlackError(kind === 'added' ? 'already_reacted' : 'no_reaction');
      tellReaction(ctx, channel, message, kind, name, bot);
    })();
    ctx.changes.publish({ kind: 'message', channel: channel.id, ts: message.ts });
    ctx.events.wake();
    return {};
  };
}

/** The bot's reactions. */
export const reactionMethods: readonly Method[] = [
  method('reactions.add', ['reactions:write'], React, change('added')),
  method('reactions.remove', ['reactions:write'], React, change('removed')),
];
