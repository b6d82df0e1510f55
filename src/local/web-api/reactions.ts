import { z } from 'zod';
import { ReactionName } from '../api-types.js';
import type { Context } from '../context.js';
import { changeReaction } from '../messages.js';
import { SlackError } from '../refusals.js';
import { type Method, method, type Reply } from './method.js';
import { postableChannel, publicMessage } from './places.js';

const React = z.looseObject({
  channel: z.string().min(1),
  timestamp: z.string().min(1),
  name: z.string().min(1),
});

function change(kind: 'added' | 'removed', nothingToDo: string) {
  return (ctx: Context, args: z.output<typeof React>): Reply => {
    const name = args.name.replaceAll(/^:|:$/g, '');
    if (!ReactionName.safeParse(name).success) throw new SlackError('invalid_name');
    const channel = postableChannel(ctx, args.channel);
    const message = publicMessage(ctx, channel.id, args.timestamp);
    if (!changeReaction(ctx, message, kind, name, ctx.identity.botUserId)) {
      throw new SlackError(nothingToDo);
    }
    return {};
  };
}

/** The bot's reactions. */
export const reactionMethods: readonly Method[] = [
  method('reactions.add', ['reactions:write'], React, change('added', 'already_reacted')),
  method('reactions.remove', ['reactions:write'], React, change('removed', 'no_reaction')),
];
