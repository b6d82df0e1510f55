import { mkdirSync, mkdtempSync, symlinkSync, writeFileSync } from 'node:fs';
import { request as httpRequest, type IncomingMessage } from 'node:http';
import { createConnection } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Workspace } from '../../src/local/workspace.js';
import { ids, openWorkspace } from './workbench.js';

type Answer = {
  readonly status: number | undefined;
  readonly headers: IncomingMessage['headers'];
  readonly body: string;
};

/** A request as any program can send it, its Host header and path untouched. */
function send(
  workspace: Workspace,
  path: string,
  headers: Readonly<Record<string, string>> = {},
  body?: string,
): Promise<Answer> {
  const port = Number(new URL(workspace.url).port);
  return new Promise((resolve, reject) => {
    const method = body === undefined ? 'GET' : 'POST';
    const request = httpRequest({ host: '127.0.0.1', port, path, method, headers }, (response) => {
      let text = '';
      response.setEncoding('utf8');
      response.on('data', (chunk: string) => {
        text += chunk;
      });
      response.on('end', () =>
        resolve({ status: response.statusCode, headers: response.headers, body: text }),
      );
    });
    request.on('error', reject);
    request.end(body);
  });
}

const say = JSON.stringify({ as: ids.noor, channel: ids.channel, text: 'forged' });
const json = { 'content-type': 'application/json' };

test.each([
  ['a name that was made to resolve to this address', { host: 'evil.example' }],
  ['this address and another port', { host: '127.0.0.1:1' }],
])('a request to %s is refused', async (_what, headers) => {
  const { workspace } = await openWorkspace();
  for (const path of ['/', '/local/state', '/api/auth.test']) {
    expect((await send(workspace, path, headers)).status).toBe(403);
  }
});

test.each([
  ['another site', { origin: 'https://evil.example' }],
  ['a file', { origin: 'null' }],
  ['another port of this machine', { origin: 'http://127.0.0.1:1' }],
  ['a link or picture elsewhere', { 'sec-fetch-site': 'cross-site' }],
])('a browser’s request from %s is refused and changes nothing', async (_what, headers) => {
  const { workspace, people } = await openWorkspace();
  expect((await send(workspace, '/local/say', { ...json, ...headers }, say)).status).toBe(403);
  expect(await people.messages(ids.noor, ids.channel)).toEqual([]);
});

test('our own page and plain clients are answered', async () => {
  const { workspace } = await openWorkspace();
  const own = { ...json, origin: workspace.url, 'sec-fetch-site': 'same-origin' };
  expect((await send(workspace, '/local/say', own, say)).status).toBe(200);
  expect((await send(workspace, '/local/say', json, say)).status).toBe(200);
});

test('what a foreign page’s plain form can send is not taken for JSON', async () => {
  const { workspace } = await openWorkspace();
  for (const type of ['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data']) {
    expect((await send(workspace, '/local/say', { 'content-type': type }, say)).status).toBe(415);
  }
});

test('only the loopback address is listened on', async () => {
  const { workspace } = await openWorkspace();
  const port = Number(new URL(workspace.url).port);
  // The other loopback addresses would answer too if every interface were listened on.
  const reached = await new Promise((resolve) => {
    const socket = createConnection({ host: '127.0.0.2', port });
    socket.on('connect', () => resolve(true));
    socket.on('error', () => resolve(false));
  });
  expect(reached).toBe(false);
});

test('a body without end is cut off', async () => {
  const { workspace } = await openWorkspace();
  const long = JSON.stringify({ as: ids.noor, channel: ids.channel, text: 'x'.repeat(9_000_000) });
  const outcome = await send(workspace, '/local/say', json, long).then(
    (answer) => answer.status,
    () => 'cut',
  );
  expect([413, 'cut']).toContain(outcome);
  expect((await send(workspace, '/local/state')).status).toBe(200);
});

test.each([
  ['not JSON', '{'],
  ['not an object', '[]'],
  ['no person', JSON.stringify({ channel: ids.channel, text: 'a' })],
  ['something unasked for', JSON.stringify({ as: ids.noor, channel: ids.channel, text: 'a', admin: true })],
  ['a prototype', '{"__proto__":{"as":"U00000NOOR"},"channel":"CTASTINGTABLE","text":"a"}'],
])('a body that is %s is refused with a sentence', async (_what, body) => {
  const { workspace } = await openWorkspace();
  const answer = await send(workspace, '/local/say', json, body);
  expect(answer.status).toBe(400);
  expect(JSON.parse(answer.body)).toEqual({
    error: expect.any(String),
    message: expect.stringMatching(/\.$/),
  });
});

function pageFolder(): string {
  const root = mkdtempSync(join(tmpdir(), 'page-'));
  const folder = join(root, 'page');
  mkdirSync(join(folder, 'styles'), { recursive: true });
  writeFileSync(join(root, 'secret.js'), 'secret');
  writeFileSync(join(folder, 'index.html'), '<!doctype html><title>page</title>');
  writeFileSync(join(folder, 'main.js'), 'export {}');
  writeFileSync(join(folder, 'styles', 'paper.css'), 'body{}');
  writeFileSync(join(folder, 'notes.sqlite'), 'secret');
  writeFileSync(join(folder, '.env'), 'secret');
  symlinkSync(join(root, 'secret.js'), join(folder, 'link.js'));
  return folder;
}

test('the page is served under a strict policy, with our own content types', async () => {
  const { workspace } = await openWorkspace({ pageDirectory: pageFolder() });
  const page = await send(workspace, '/');
  expect(page).toMatchObject({ status: 200, headers: { 'content-type': 'text/html; charset=utf-8' } });
  const policy = String(page.headers['content-security-policy']);
  expect(policy).toContain("default-src 'none'");
  expect(policy).toContain("script-src 'self';");
  expect(policy).toContain("frame-ancestors 'none'");
  expect(policy).not.toContain('unsafe');
  expect(page.headers['x-content-type-options']).toBe('nosniff');
  expect((await send(workspace, '/main.js')).headers['content-type']).toBe('text/javascript; charset=utf-8');
  expect((await send(workspace, '/styles/paper.css')).headers['content-type']).toBe(
    'text/css; charset=utf-8',
  );
});

test.each([
  '/../secret.js',
  '/%2e%2e/secret.js',
  '/styles/..%2f..%2fsecret.js',
  '/styles/%2e%2e%2f%2e%2e%2fsecret.js',
  '/..%5csecret.js',
  '/link.js',
  '/.env',
  '/notes.sqlite',
  '/%00main.js',
  '/%zz.js',
  '/styles',
])('%s leads nowhere', async (path) => {
  const { workspace } = await openWorkspace({ pageDirectory: pageFolder() });
  const answer = await send(workspace, path);
  expect(answer.status).toBe(404);
  expect(answer.body).not.toContain('"secret"');
});

test('an uploaded file that is no picture is saved, never shown', async () => {
  const { workspace, people } = await openWorkspace();
  const base64 = Buffer.from('<script>alert(1)</script>').toString('base64');
  const files = [
    { name: 'a.html', base64 },
    { name: 'b.svg', base64 },
  ];
  await people.say({ as: ids.noor, channel: ids.channel, text: 'a', files });
  const [message] = await people.messages(ids.noor, ids.channel);
  for (const file of message?.files ?? []) {
    const answer = await send(workspace, file.url);
    expect(answer.headers['content-disposition']).toMatch(/^attachment/);
    expect(answer.headers['content-security-policy']).toContain("default-src 'none'");
  }
});

test('a person cannot act for the bot, change another’s message, or read what is not theirs', async () => {
  const { workspace, people } = await openWorkspace();
  const ts = await people.say({ as: ids.noor, channel: ids.channel, text: 'mine' });
  const dm = await people.dm(ids.noor);
  const refused = async (path: string, body?: object) => (await people.refused(`/local/${path}`, body)).error;
  expect(await refused('say', { as: workspace.botUserId, channel: ids.channel, text: 'a' })).toBe(
    'person_is_bot',
  );
  expect(await refused('edit', { as: ids.teo, channel: ids.channel, ts, text: 'a' })).toBe('not_own_message');
  expect(await refused('delete', { as: ids.teo, channel: ids.channel, ts })).toBe('not_own_message');
  expect(await refused('say', { as: ids.teo, channel: dm.id, text: 'a' })).toBe('channel_not_found');
  expect(await refused(`messages?as=${ids.teo}&channel=${dm.id}`)).toBe('channel_not_found');
  await people.post(`people/${ids.teo}`, { deleted: true });
  expect(await refused('say', { as: ids.teo, channel: ids.channel, text: 'a' })).toBe('person_deleted');
});
