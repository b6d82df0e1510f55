import type { ServerResponse } from 'node:http';
import type { ChangeFeed } from '../changes.js';
import { safeHeaders } from './answers.js';

const HEARTBEAT_MS = 15_000;

/** Keeps telling one page of changes, as server-sent events, until it goes away. */
export function streamChanges(response: ServerResponse, changes: ChangeFeed): void {
  response.writeHead(200, { ...safeHeaders, 'content-type': 'text/event-stream' });
  response.write('retry: 1000\n\n');
  const unsubscribe = changes.subscribe((change) => {
    response.write(`event: change\ndata: ${JSON.stringify(change)}\n\n`);
  });
  const heartbeat = setInterval(() => response.write(': still here\n\n'), HEARTBEAT_MS);
  heartbeat.unref();
  response.on('close', () => {
    clearInterval(heartbeat);
    unsubscribe();
  });
}
