import { expect, test } from 'vitest';
import { z } from 'zod';
import { methods } from '../../src/local/web-api/table.js';
import { clientOf, openWorkspace } from './workbench.js';

/** Every method of Slack's that the workspace plays, with what it answers to a call that says nothing. */
const supported = [
  ['api.test', null],
  ['apps.connections.open', 'not_allowed_token_type'],
  ['auth.test', null],
  ['chat.delete', 'missing_argument'],
  ['chat.postEphemeral', 'missing_argument'],
  ['chat.postMessage', 'missing_argument'],
  ['chat.update', 'missing_argument'],
  ['conversations.history', 'missing_argument'],
  ['conversations.info', 'missing_argument'],
  ['conversations.open', 'not_enough_users'],
  ['conversations.replies', 'missing_argument'],
  ['files.completeUploadExternal', 'missing_argument'],
  ['files.getUploadURLExternal', 'missing_argument'],
  ['files.info', 'missing_scope'],
  ['reactions.add', 'missing_argument'],
  ['reactions.remove', 'missing_argument'],
  ['users.info', 'missing_argument'],
  ['views.open', 'missing_argument'],
  ['views.publish', 'missing_argument'],
  ['views.push', 'missing_argument'],
  ['views.update', 'missing_argument'],
] as const;

const Reply = z.looseObject({ ok: z.boolean(), error: z.string().optional() });

test('the table of methods is the list of supported ones', () => {
  expect([...methods.keys()].sort()).toEqual(supported.map(([name]) => name));
});

test.each(supported)('%s is answered over HTTP', async (name, error) => {
  const { workspace } = await openWorkspace();
  const response = await fetch(workspace.apiUrl + name, {
    method: 'POST',
    headers: { authorization: `Bearer ${workspace.botToken}` },
  });
  expect(response.status).toBe(200);
  const reply = Reply.parse(await response.json());
  expect(reply.error ?? null).toBe(error);
  expect(reply.ok).toBe(error === null);
});

test('any other method is unknown', async () => {
  const { slack } = await openWorkspace();
  await expect(slack.apiCall('chat.shout')).rejects.toMatchObject({ data: { error: 'unknown_method' } });
});

test('a wrong token is refused, and so is none', async () => {
  const { workspace } = await openWorkspace();
  await expect(clientOf(workspace, 'xoxb-other').auth.test()).rejects.toMatchObject({
    data: { error: 'invalid_auth' },
  });
  const bare = await fetch(`${workspace.apiUrl}auth.test`, { method: 'POST' });
  expect(await bare.json()).toEqual({ ok: false, error: 'not_authed' });
});

test('a scope that was not granted is named', async () => {
  const { slack } = await openWorkspace({ scopes: ['users:read'] });
  await expect(slack.chat.postMessage({ channel: 'C1', text: 'a' })).rejects.toMatchObject({
    data: { error: 'missing_scope', needed: 'chat:write', provided: 'users:read' },
  });
});

test('every answer tells the scopes of the token', async () => {
  const { slack } = await openWorkspace({ scopes: ['chat:write', 'commands'] });
  const who = await slack.auth.test();
  expect(who.response_metadata?.scopes).toEqual(['chat:write', 'commands']);
});
