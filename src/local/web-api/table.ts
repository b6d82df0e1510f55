import { authMethods } from './auth.js';
import { chatMethods } from './chat.js';
import { conversationMethods } from './conversations.js';
import { fileMethods } from './files.js';
import type { Method } from './method.js';
import { reactionMethods } from './reactions.js';
import { userMethods } from './users.js';
import { viewMethods } from './views.js';

/** Every Web API method that the workspace answers, by name; any other is Slack's `unknown_method`. */
export const methods: ReadonlyMap<string, Method> = new Map(
  [
    ...authMethods,
    ...chatMethods,
    ...conversationMethods,
    ...fileMethods,
    ...reactionMethods,
    ...userMethods,
    ...viewMethods,
  ].map((method) => [method.name, method]),
);

/** Scopes of the bot's token unless told otherwise: the least that a table in a channel needs. */
export const defaultScopes = [
  'commands',
  'chat:write',
  'app_mentions:read',
  'channels:history',
  'groups:history',
  'im:history',
  'channels:read',
  'groups:read',
  'im:write',
  'users:read',
  'files:write',
  'reactions:write',
] as const;
