import { z } from 'zod';
import { SlackError } from '../refusals.js';
import { type Method, method, OptionalText } from './method.js';

/** Who the bot is, and how to open a socket. */
export const authMethods: readonly Method[] = [
  method('auth.test', [], z.looseObject({}), (ctx) => ({
    url: `${ctx.url()}/`,
    team: ctx.identity.teamName,
    user: ctx.identity.botName,
    team_id: ctx.identity.teamId,
    user_id: ctx.identity.botUserId,
    bot_id: ctx.identity.botId,
    is_enterprise_install: false,
  })),
  method('api.test', [], z.looseObject({ error: OptionalText }), (_ctx, args) => {
    if (args.error !== undefined) throw new SlackError(args.error, { args });
    return { args };
  }),
  method('apps.connections.open', [], z.looseObject({}), (ctx) => {
    if (ctx.socketUrl === undefined) throw new SlackError('access_denied');
    return { url: ctx.socketUrl() };
  }),
];
