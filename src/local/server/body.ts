import type { IncomingMessage } from 'node:http';
import { RefusedAction } from '../refusals.js';

/** The whole body, refused once it is longer than `most` bytes. */
export async function readBody(request: IncomingMessage, most: number): Promise<Buffer> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of request) {
    const bytes = Buffer.from(chunk);
    size += bytes.length;
    if (size > most) {
      throw new RefusedAction('body_too_large', `A body may hold ${most} bytes here.`, 413);
    }
    chunks.push(bytes);
  }
  return Buffer.concat(chunks);
}
