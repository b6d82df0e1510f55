import type { House } from './house.js';

const TIMEOUT_MS = 20_000;

/** Sends a file's bytes to Slack and gives its id; it is seen by nobody until it is completed. */
export async function uploadBytes(house: House, name: string, bytes: Buffer): Promise<string> {
  const answer = await house.web.files.getUploadURLExternal({ filename: name, length: bytes.length });
  const { upload_url: url, file_id: id } = answer;
  if (!url || !id) throw new Error('Slack gave no place to upload to');
  const form = new FormData();
  form.set('body', new Blob([new Uint8Array(bytes)]), name);
  const sent = await fetch(url, { method: 'POST', body: form, signal: AbortSignal.timeout(TIMEOUT_MS) });
  if (!sent.ok) throw new Error(`the upload was answered with HTTP ${sent.status}`);
  return id;
}
