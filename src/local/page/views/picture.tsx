import type { SharedFile } from '../../api-types.js';
import { getState, update } from '../store.js';
import { h } from '../vendor/preact.js';
import { showModal } from './dialogs.js';

interface PictureSource {
  readonly image_url?: string;
  readonly slack_file?: { readonly id?: string; readonly url?: string };
}

/** Where this page can load a picture from: the workspace's own files only. */
export function pictureAddress(source: PictureSource): string | null {
  if (source.slack_file?.id !== undefined) return `/local/files/${encodeURIComponent(source.slack_file.id)}`;
  const address = source.slack_file?.url ?? source.image_url;
  if (address === undefined || !URL.canParse(address, location.origin)) return null;
  const { pathname, hostname, origin } = new URL(address, location.origin);
  const isOurs = origin === location.origin || hostname === '127.0.0.1' || hostname === 'localhost';
  return isOurs ? pathname : null;
}

interface PictureProps {
  readonly url: string | null;
  readonly alt: string;
  readonly title?: string | undefined;
  readonly small?: boolean;
}

/** A picture that grows with a tap; its words stand in when it cannot be shown. */
export function Picture({ url, alt, title, small = false }: PictureProps) {
  if (url === null) return <p class="picture-words">Picture: {alt}</p>;
  if (small) return <img class="picture-small" src={url} alt={alt} />;
  return (
    <figure class="picture">
      {title === undefined ? null : <figcaption>{title}</figcaption>}
      <button type="button" class="picture-open" onClick={() => update({ picture: { url, alt } })}>
        <img src={url} alt={alt} />
      </button>
    </figure>
  );
}

/** A picture as large as the screen allows. */
export function PictureDialog() {
  const { picture } = getState();
  if (picture === null) return null;
  return (
    <dialog
      class="big-picture"
      ref={showModal}
      aria-label="Picture"
      onClose={() => update({ picture: null })}
    >
      <button type="button" class="tap" onClick={() => update({ picture: null })}>
        Close the picture
      </button>
      <img src={picture.url} alt={picture.alt} />
      <p>{picture.alt}</p>
    </dialog>
  );
}

const KINDS = new Map([
  ['application/pdf', 'PDF'],
  ['text/csv', 'CSV'],
  ['application/json', 'JSON'],
  ['text/plain', 'text'],
]);

/** What was uploaded with a message: pictures in sight, anything else to open. */
export function Files({ files }: { readonly files: readonly SharedFile[] }) {
  if (files.length === 0) return null;
  return <div class="files">{files.map((file) => drawFile(file))}</div>;
}

function drawFile(file: SharedFile) {
  const address = pictureAddress({ image_url: file.url });
  if (address !== null && file.mimetype.startsWith('image/')) {
    return <Picture url={address} alt={file.title} title={file.title} />;
  }
  return (
    <a class="file" href={address ?? file.url} target="_blank" rel="noopener noreferrer">
      <span class="file-kind">{KINDS.get(file.mimetype) ?? 'file'}</span>
      <span>
        {file.title}
        <small>{file.name}</small>
      </span>
    </a>
  );
}
