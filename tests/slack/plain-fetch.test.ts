import { createServer, type RequestListener, type Server } from 'node:http';
import { afterEach, expect, test } from 'vitest';
import { plainFetch } from '../../src/slack/plain-fetch.js';

/* Node's own `fetch` is the reference: for what the Web API sends, both must see the same. */

let server: Server | undefined;
afterEach(() => {
  server?.closeAllConnections();
  server?.close();
});

async function serve(listener: RequestListener): Promise<string> {
  const started = createServer(listener);
  server = started;
  await new Promise<void>((resolve) => started.listen(0, '127.0.0.1', resolve));
  const address = started.address();
  return `http://127.0.0.1:${typeof address === 'object' && address !== null ? address.port : 0}/api/`;
}

const FORM = { 'content-type': 'application/x-www-form-urlencoded', authorization: 'Bearer xoxb-test' };
const ASKED = { method: 'POST', headers: FORM, body: 'text=caf%C3%A9+%E2%98%95' };

test.each([
  ['an answer', 200, { 'content-type': 'application/json; charset=utf-8' }, '{"ok":true,"text":"café ☕"}'],
  ['a rate limit', 429, { 'Retry-After': '7' }, ''],
  ['Slack in trouble', 503, { 'x-slack-req-id': 'abc' }, '<html>sorry</html>'],
  ['an empty answer', 204, {}, ''],
  ['two headers of a name', 200, { 'x-oauth-scopes': ['chat:write', 'commands'] }, '{"ok":true}'],
])('%s is seen as `fetch` sees it', async (_what, status, headers, body) => {
  const heard: string[] = [];
  const url = await serve((request, response) => {
    const pieces: string[] = [];
    request.setEncoding('utf8').on('data', (piece) => pieces.push(String(piece)));
    request.on('end', () => {
      const { method, headers: sent } = request;
      heard.push(
        [method, sent['content-type'], sent.authorization, sent['content-length'], ...pieces].join(' '),
      );
      response.writeHead(status, headers).end(body);
    });
  });
  const seen = async (way: typeof plainFetch) => {
    const answer = await way(`${url}chat.postMessage`, ASKED);
    const { ok, status: code, statusText } = answer;
    const kept = [...answer.headers.entries()].filter(([name]) => !['date', 'keep-alive'].includes(name));
    const found = answer.headers.get('RETRY-after');
    return { ok, code, statusText, url: answer.url, kept: kept.sort(), found, text: await answer.text() };
  };
  expect(await seen(plainFetch)).toEqual(await seen(fetch));
  expect(heard[0]).toBe(heard[1]);
});

test('a letter split between two packets arrives whole', async () => {
  const cup = Buffer.from('{"text":"☕"}');
  const url = await serve((_request, response) => {
    response.writeHead(200);
    response.write(cup.subarray(0, 10));
    setTimeout(() => response.end(cup.subarray(10)), 20);
  });
  expect(await (await plainFetch(url, ASKED)).json()).toEqual({ text: '☕' });
});

test('one connection serves several calls', async () => {
  const ports = new Set<number | undefined>();
  const url = await serve((request, response) => {
    ports.add(request.socket.remotePort);
    request.resume().on('end', () => response.end('{}'));
  });
  for (let call = 0; call < 3; call += 1) await (await plainFetch(url, ASKED)).text();
  expect(ports.size).toBe(1);
});

test.each<[string, RequestListener]>([
  ['nothing answers before it breaks', (request) => request.socket.destroy()],
  [
    'an answer breaks off',
    (_request, response) => {
      response.writeHead(200, { 'content-length': '100' });
      response.write('{"ok":true');
      setTimeout(() => response.destroy(), 20);
    },
  ],
])('when %s, the call fails', async (_what, listener) => {
  const url = await serve(listener);
  await expect(plainFetch(url, ASKED)).rejects.toThrow();
});

test('a call is given up when it is told to be, before and during the answer', async () => {
  const url = await serve((_request, response) => {
    response.writeHead(200);
    response.write('{');
  });
  await expect(plainFetch(url, { ...ASKED, signal: AbortSignal.timeout(50) })).rejects.toThrow(/abort/i);
  await expect(plainFetch(url, { ...ASKED, signal: AbortSignal.abort() })).rejects.toThrow(/abort/i);
});

test('a redirect is not followed: a token goes to nobody else', async () => {
  let asked = 0;
  const url = await serve((_request, response) => {
    asked += 1;
    response.writeHead(302, { location: '/elsewhere' }).end();
  });
  expect((await plainFetch(url, ASKED)).status).toBe(302);
  expect(asked).toBe(1);
});

test('a body that is no text is sent by `fetch`', async () => {
  let type: string | undefined;
  const url = await serve((request, response) => {
    type = request.headers['content-type'];
    request.resume().on('end', () => response.end('{}'));
  });
  const body = new FormData();
  body.append('file', new Blob(['a picture']), 'tally.png');
  expect(await (await plainFetch(url, { method: 'POST', body })).text()).toBe('{}');
  expect(type).toMatch(/^multipart\/form-data/);
});
