import type { KnownBlock } from '@slack/types';
import { plainText } from '../kit/blocks.js';
import { shorten } from '../kit/escape.js';
import type { PictureSpec } from '../kit/notice.js';
import { findPicture, keepPicture } from '../store/pictures.js';
import { canonicalJson, hashOf } from './canonical.js';
import type { KeeperTools } from './keeper-types.js';
import { uploadBytes } from './upload.js';

type PictureResult =
  | { readonly ok: true; readonly block: KnownBlock }
  | { readonly ok: false; readonly error: string };

/**
 * A picture's block; each drawing is drawn and uploaded once, by its content. A picture never holds its
 * message up: when it cannot be had now, the message goes without and the picture follows.
 */
export async function pictureBlock(
  tools: KeeperTools,
  workspace: string,
  picture: PictureSpec,
): Promise<PictureResult> {
  const { house } = tools;
  try {
    const hash = hashOf(canonicalJson(picture.drawing));
    const known = await findPicture(house.deps.db, workspace, hash);
    const fileId = known ?? (await upload(tools, picture));
    if (known === null)
      await keepPicture(house.deps.db, { workspace, hash, fileId, at: house.deps.clock.now() });
    return {
      ok: true,
      block: {
        type: 'image',
        slack_file: { id: fileId },
        alt_text: shorten(picture.altText, 2000),
        title: plainText(picture.title, 2000),
      },
    };
  } catch (error) {
    house.deps.log.warn({ err: error }, 'a picture could not be drawn or uploaded yet');
    return { ok: false, error: 'the picture is missing' };
  }
}

/** Uploaded without sharing it: the message that shows it is what people see. The name says nothing. */
async function upload(tools: KeeperTools, picture: PictureSpec): Promise<string> {
  const bytes = await tools.drawPicture(picture.drawing);
  const fileId = await uploadBytes(tools.house, 'picture.png', bytes);
  await tools.house.web.files.completeUploadExternal({ files: [{ id: fileId, title: picture.title }] });
  return fileId;
}
