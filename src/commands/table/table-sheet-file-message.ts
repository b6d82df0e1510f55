import { type Tasting, tastingName } from '../../domain/record/tasting.js';
import { button, buttons, say } from '../../kit/blocks.js';
import type { Message } from '../../kit/message.js';
import type { Notice } from '../../kit/notice.js';

/** A print that was asked for: its content, and whether it is for the host alone. */
export type SheetPrint = {
  readonly id: number;
  readonly hash: string;
  readonly to: 'host' | 'thread';
  readonly content: unknown;
};

/** The printed sheet as a file, shared once: with the host alone while the table is blind, else in its thread. */
export function sheetFileNotice(tasting: Pick<Tasting, 'id' | 'number' | 'host'>, print: SheetPrint): Notice {
  const name = tastingName(tasting);
  const secret = print.to === 'host' ? ' It names what is behind the codes: keep page two face down.' : '';
  return {
    kind: 'file',
    key: `sheet:${tasting.id}:${print.hash}:${print.id}`,
    place:
      print.to === 'host'
        ? { kind: 'direct', person: tasting.host }
        : { kind: 'thread', under: `table:${tasting.id}` },
    file: {
      name: `table-sheet-${name}.pdf`,
      title: `Table sheet ${name}`,
      comment: `The table sheet of ${name}, two pages of A4. Page one lies on the table, page two is for whoever weighs.${secret}`,
      content: { kind: 'table sheet', sheet: print.content },
    },
  };
}

/** Where the printed sheet will stand, or stands already. */
export function printedMessage(
  tasting: Pick<Tasting, 'id' | 'number' | 'channel'>,
  to: SheetPrint['to'],
  already: boolean,
): Message {
  const where =
    to === 'host'
      ? 'in our direct messages'
      : `in the thread of *${tastingName(tasting)}* in <#${tasting.channel}>`;
  if (!already) return say(`The sheet is being drawn. You find it ${where} in a moment.`);
  return say(
    `Nothing on the sheet has changed since it was last printed. It stands ${where}.`,
    ...buttons(button('Share it again', 'table.print#again', { tasting: tasting.id, again: true })),
  );
}
