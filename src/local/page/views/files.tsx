import type { SharedFile } from '../../api-types.js';
import { h } from '../vendor/preact.js';
import { Picture, pictureAddress } from './picture.js';

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
