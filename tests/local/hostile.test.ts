import fc from 'fast-check';
import { expect, test } from 'vitest';
import { z } from 'zod';
import { localRoutes } from '../../src/local/server/local-routes.js';
import { methods } from '../../src/local/web-api/table.js';
import { ids, openWorkspace } from './workbench.js';

const Reply = z.looseObject({ ok: z.boolean(), error: z.string().optional() });

/** Arguments that often name something real, so that more than the first check is reached. */
function argumentsWith(names: readonly string[]) {
  const value = fc.oneof(
    fc.constantFrom<unknown>(ids.channel, ids.noor, 'DM', '', '1.000000', '0', -1, 1e9, true, null, [], {}),
    fc.constantFrom<unknown>([{ type: 'section' }], [{ type: 'actions', elements: [{ type: 'button' }] }]),
    fc.constantFrom<unknown>({ type: 'modal', blocks: [] }, { type: 'home', blocks: [{ type: 'divider' }] }),
    fc.jsonValue({ maxDepth: 3 }),
  );
  return fc.dictionary(fc.constantFrom(...names), value, { maxKeys: 6 });
}

const callNames = [
  'channel',
  'ts',
  'text',
  'blocks',
  'view',
  'user',
  'users',
  'user_id',
  'metadata',
  'files',
  'limit',
  'cursor',
  'thread_ts',
  'message_ts',
  'timestamp',
  'name',
  'filename',
  'length',
  'channel_id',
  'trigger_id',
  'view_id',
  'file',
];
const bodyNames = [
  'as',
  'channel',
  'ts',
  'text',
  'thread',
  'files',
  'name',
  'action',
  'message',
  'view',
  'values',
  'to',
  'advance',
  'members',
  'kind',
  'tz',
  'realName',
  'deleted',
  'archived',
  'addMember',
  'rules',
  'seed',
  'tab',
  'callbackId',
];

test('no call, however odd, breaks the Web API', { timeout: 60_000 }, async () => {
  const { workspace } = await openWorkspace({
    scopes: [
      'files:read',
      'chat:write',
      'users:read',
      'channels:read',
      'channels:history',
      'im:write',
      'files:write',
      'reactions:write',
    ],
  });
  const call = fc.tuple(fc.constantFrom(...methods.keys()), argumentsWith(callNames));
  await fc.assert(
    fc.asyncProperty(call, async ([name, args]) => {
      const response = await fetch(workspace.apiUrl + name, {
        method: 'POST',
        headers: { 'content-type': 'application/json', authorization: `Bearer ${workspace.botToken}` },
        body: JSON.stringify(args),
      });
      expect(response.status).toBe(200);
      const reply = Reply.parse(await response.json());
      expect(reply.error).not.toBe('fatal_error');
    }),
    { numRuns: 400 },
  );
});

test('no request, however odd, breaks the people’s API', { timeout: 60_000 }, async () => {
  const { workspace } = await openWorkspace();
  const posts = [...localRoutes.keys()]
    .filter((asked) => asked.startsWith('POST ') && asked !== 'POST /local/settled')
    .map((asked) => asked.slice('POST '.length).replace(':id', ids.channel));
  const request = fc.tuple(
    fc.constantFrom(...posts),
    fc.oneof(argumentsWith(bodyNames), fc.jsonValue({ maxDepth: 2 })),
  );
  await fc.assert(
    fc.asyncProperty(request, async ([path, body]) => {
      const response = await fetch(workspace.url + path, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify(body),
      });
      const answer: unknown = await response.json();
      expect(response.status, JSON.stringify(answer)).toBeLessThan(500);
    }),
    { numRuns: 400 },
  );
});
