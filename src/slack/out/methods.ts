/**
 * Every Web API method the bot calls and the scopes each needs (any one of them, by the kind of channel). The
 * manifest is held against this list, and this list against the code.
 */
export const METHODS: ReadonlyMap<string, readonly string[]> = new Map([
  ['auth.test', []],
  ['chat.postMessage', ['chat:write']],
  ['chat.update', ['chat:write']],
  ['chat.delete', ['chat:write']],
  ['chat.postEphemeral', ['chat:write']],
  ['conversations.history', ['channels:history', 'groups:history', 'im:history']],
  ['conversations.replies', ['channels:history', 'groups:history', 'im:history']],
  ['conversations.info', ['channels:read', 'groups:read']],
  ['conversations.open', ['im:write']],
  ['files.getUploadURLExternal', ['files:write']],
  ['files.completeUploadExternal', ['files:write']],
  ['reactions.add', ['reactions:write']],
  ['reactions.remove', ['reactions:write']],
  ['users.info', ['users:read']],
  ['views.open', []],
  ['views.push', []],
  ['views.update', []],
  ['views.publish', []],
]);

/** Each event the bot listens to, as the manifest names it, and the scopes for it. */
export const EVENTS: ReadonlyMap<string, readonly string[]> = new Map([
  ['app_home_opened', []],
  ['app_mention', ['app_mentions:read']],
  ['member_joined_channel', ['channels:read', 'groups:read']],
  ['message.channels', ['channels:history']],
  ['message.groups', ['groups:history']],
  ['message.im', ['im:history']],
]);

/** Scopes that are used by no method: slash commands come with this one. */
const FOR_COMMANDS = ['commands'];

/** Everything the bot has to be granted, sorted. */
export function neededScopes(): readonly string[] {
  const all = [...METHODS.values(), ...EVENTS.values(), FOR_COMMANDS].flat();
  return [...new Set(all)].sort();
}
