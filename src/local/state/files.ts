import { z } from 'zod';
import { type Db, row, rows, run, save } from './database.js';

const Row = z.object({
  id: z.string(),
  name: z.string(),
  title: z.string(),
  mimetype: z.string(),
  size: z.number(),
  uploader: z.string(),
  state: z.enum(['promised', 'uploaded', 'shared']),
  createdAt: z.number(),
});
const Found = Row.optional();
const COLUMNS = 'id, name, title, mimetype, size, uploader, state, created_at';

export type StoredFile = Readonly<z.infer<typeof Row>>;

export function findFile(db: Db, id: string): StoredFile | undefined {
  return row(db, Found, `select ${COLUMNS} from file where id = ?`, id);
}

export function findFileByUploadKey(db: Db, key: string): StoredFile | undefined {
  return row(db, Found, `select ${COLUMNS} from file where upload_key = ?`, key);
}

export function addFile(db: Db, file: StoredFile, uploadKey: string): void {
  save(db, 'file', ['id'], { ...file, uploadKey });
}

export function storeBytes(db: Db, id: string, bytes: Buffer): void {
  run(db, "update file set bytes = ?, size = ?, state = 'uploaded' where id = ?", bytes, bytes.length, id);
}

export function markShared(db: Db, id: string, title: string): void {
  run(db, "update file set state = 'shared', title = ? where id = ?", title, id);
}

export function addShare(db: Db, file: string, channel: string, ts: string): void {
  run(db, 'insert into file_share (file, channel, ts) values (?, ?, ?)', file, channel, ts);
}

const Share = z.object({ channel: z.string(), ts: z.string() });

export function sharesOf(db: Db, file: string): readonly Readonly<z.output<typeof Share>>[] {
  return rows(db, Share, 'select channel, ts from file_share where file = ? order by ts', file);
}

const Bytes = z.object({ bytes: z.instanceof(Buffer).nullable() }).optional();

/** The bytes of a file whose upload is done. */
export function fileBytes(db: Db, id: string): Buffer | null {
  return row(db, Bytes, 'select bytes from file where id = ?', id)?.bytes ?? null;
}
