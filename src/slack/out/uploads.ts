import type { KnownBlock } from '@slack/types';
import { plainText } from '../../kit/blocks.js';
import { shorten } from '../../kit/escape.js';
import type { PictureSpec } from '../../kit/notice.js';
import { findPicture, savePicture } from '../../store/notices.js';
import type { Runtime } from '../runtime.js';
import { canonicalJson, hashOf } from './stored-notice.js';

const TIMEOUT_MS = 20_000;

/** Sends a file's bytes to Slack and gives its id; it is seen by nobody until it is completed. */
export async function uploadBytes({ web }: Runtime, name: string, bytes: Buffer): Promise<string> {
  const answer = await web.files.getUploadURLExternal({ filename: name, length: bytes.length });
  const { upload_url: url, file_id: id } = answer;
  if (!url || !id) throw new Error('Slack gave no place to upload to');
  const form = new FormData();
  form.set('body', new Blob([new Uint8Array(bytes)]), name);
  const sent = await fetch(url, { method: 'POST', body: form, signal: AbortSignal.timeout(TIMEOUT_MS) });
  if (!sent.ok) throw new Error(`the upload was answered with HTTP ${sent.status}`);
  return id;
}

/**
 * A picture's block; each drawing is drawn and uploaded once, by its content. A picture never holds its
 * message up: null when it cannot be had now, and then the message goes without and the picture follows.
 */
export async function pictureBlock(
  runtime: Runtime,
  workspace: string,
  picture: PictureSpec,
): Promise<KnownBlock | null> {
  const { web, deps } = runtime;
  const { db, clock, log } = deps;
  try {
    const hash = hashOf(canonicalJson(picture.drawing));
    let fileId = await findPicture(db, workspace, hash);
    if (fileId === null) {
      fileId = await uploadBytes(runtime, 'picture.png', await runtime.drawPicture(picture.drawing));
      // Completed without sharing it: the message that shows it is what people see. The name says nothing.
      await web.files.completeUploadExternal({ files: [{ id: fileId, title: picture.title }] });
      await savePicture(db, workspace, hash, fileId, clock.now());
    }
    return {
      type: 'image',
      slack_file: { id: fileId },
      alt_text: shorten(picture.altText, 2000),
      title: plainText(picture.title, 2000),
    };
  } catch (error) {
    log.warn({ err: error }, 'a picture could not be drawn or uploaded yet');
    return null;
  }
}
