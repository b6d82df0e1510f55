import type { Notice } from '../../kit/notice.js';

import type { NoticeRow } from '../../store/notices.js';
import type { Runtime } from '../runtime.js';

/** Draws a picture (PNG) from what a notice asks for. */
export type PictureDrawer = (drawing: unknown) => Promise<Buffer>;
/** Draws a printable table sheet (PDF); `nameOf` tells how a person is called, for paper shows no mention. */
export type SheetDrawer = (sheet: unknown, nameOf: (person: string) => Promise<string>) => Promise<Buffer>;

/** A notice that was given up because Slack will not take it. */
export type StoppedNotice = Pick<NoticeRow, 'workspace' | 'key' | 'subject' | 'kind' | 'channel' | 'error'>;

export type KeeperTools = Runtime & {
  readonly drawPicture: PictureDrawer;
  readonly drawSheet: SheetDrawer;
  /** Called once for each notice that is given up, so that the host can be told. */
  readonly onStopped: (notice: StoppedNotice) => Promise<void>;
  /** Called when a message was found again after an unclear outcome: replies to it may have been missed. */
  readonly onFound: (channel: string, ts: string) => void;
  /** Called when a note's message is not there to react to: word that it was taken back may never have come. */
  readonly onMissing: (channel: string, ts: string) => void;
};

export type NoticeOf<Kind extends Notice['kind']> = Extract<Notice, { readonly kind: Kind }>;
