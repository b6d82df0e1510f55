import { type Tasting, tastingName } from '../../domain/record/tasting.js';
import type { TableResult } from '../../domain/result/table-result.js';
import { formatTime, formatWhen } from '../../domain/when/local-day.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message, Notice, PictureSpec } from '../../kit/notice.js';
import type { TableView } from '../common/table-view.js';
import { tallyMessage } from '../tallying/tally-messages.js';
import { cupCard, tableCard } from './table-card-messages.js';

export type TastingNoticesInput = {
  readonly view: TableView;
  /** Worked out only when the tally stands in the thread. */
  readonly result: TableResult | null;
  readonly tallyPicture: PictureSpec | null;
  /** The digest as it was posted. */
  readonly digest: Message | null;
  readonly digestPicture: PictureSpec | null;
};

/** Everything that should stand in Slack about one tasting. */
export function tastingNotices(input: TastingNoticesInput): readonly Notice[] {
  const { view } = input;
  const { tasting } = view;
  const channel = { kind: 'channel' as const, channel: tasting.channel };
  const notices: Notice[] = [
    { kind: 'message', key: `table:${tasting.id}`, place: channel, message: tableCard(view) },
  ];
  if (tasting.openedAt !== null) {
    for (const cup of view.cups) {
      notices.push({ kind: 'message', key: `cup:${cup.id}`, place: channel, message: cupCard(cup, view) });
    }
  }
  if (input.result) {
    notices.push({
      kind: 'message',
      key: `tally:${tasting.id}`,
      place: { kind: 'thread', under: `table:${tasting.id}` },
      message: tallyMessage(view, input.result),
      ...(input.tallyPicture ? { picture: input.tallyPicture } : {}),
    });
  }
  if (input.digest) {
    notices.push({
      kind: 'message',
      key: `digest:${tasting.id}`,
      place: channel,
      message: input.digest,
      ...(input.digestPicture ? { picture: input.digestPicture } : {}),
    });
  }
  return [...notices, ...stopped(view), ...afterClosing(view), ...reminders(view)];
}

/** Told once, and kept true: the channel refuses what should stand there. */
function stopped(view: TableView): readonly Notice[] {
  if (!view.stopped) return [];
  const { tasting } = view;
  const name = tastingName(tasting);
  const channel = `<#${tasting.channel}>`;
  const message =
    view.stopped.errors.length === 0
      ? say(`*${name}* stands in ${channel} again.`)
      : say(
          `I cannot post about *${name}* in ${channel}: ${view.stopped.errors.map(whyStopped).join('; ')}. Nothing is lost: it follows as soon as I can.`,
          ...buttons(button('Try again', 'help.retry', { tasting: tasting.id })),
        );
  return [
    {
      kind: 'message',
      key: `stopped:${tasting.id}`,
      place: { kind: 'direct', person: tasting.host },
      message,
    },
  ];
}

const WHY_STOPPED = new Map([
  ['not_in_channel', 'I am not in it; please `/invite` me'],
  ['channel_not_found', 'I cannot see it; please `/invite` me'],
  ['is_archived', 'it is archived; please bring it back, or book again in another channel'],
  ['restricted_action', 'only some people may post there; please let me'],
]);

function whyStopped(error: string): string {
  return WHY_STOPPED.get(error) ?? `Slack says “${error}”`;
}

function afterClosing(view: TableView): readonly Notice[] {
  const { tasting, afterClosing: count } = view;
  if (count === 0) return [];
  const name = tastingName(tasting);
  const what = count === 1 ? 'One note was' : `${count} notes were`;
  const decided = tasting.state === 'decided';
  const consequence = decided
    ? 'The digest stands as it was posted.'
    : 'Late ones are kept and not counted unless you reopen the table.';
  const value = { tasting: tasting.id };
  const more = decided
    ? buttons(button('Post the digest anew', 'digest.again', value))
    : buttons(button('Reopen', 'table.reopen', value));
  return [
    {
      kind: 'message',
      key: `after-closing:${tasting.id}`,
      place: { kind: 'direct', person: tasting.host },
      message: say(`${what} written, changed or taken back after *${name}* closed. ${consequence}`, ...more),
    },
  ];
}

function reminders(view: TableView): readonly Notice[] {
  const { tasting, house, recipe } = view;
  const name = tastingName(tasting);
  const when = formatWhen(tasting.startsAt, house.timeZone);
  const value = { tasting: tasting.id };
  return view.fired.flatMap((key): readonly Notice[] => {
    if (key.startsWith('tasting-tomorrow:')) {
      const waiting = view.readiness.filter((coffee) => !coffee.there);
      const lines = [
        `Tomorrow: *${name}*, *${mrkdwn(recipe.name)}*, ${mrkdwn(when)}.`,
        waiting.length === 0
          ? 'Every coffee is here.'
          : `Not ready yet:\n${waiting.map((coffee) => `• ${mrkdwn(coffee.said)}`).join('\n')}`,
      ];
      const message = say(
        lines.join('\n'),
        ...buttons(
          button('Table sheet', 'table.sheet', value),
          button('Move or cancel', 'book.change', value),
        ),
      );
      return [
        { kind: 'message', key: `reminder:${key}`, place: { kind: 'direct', person: tasting.host }, message },
      ];
    }
    if (key.startsWith('tasting-soon:')) {
      const message = say(
        `*${name}* begins at ${formatTime(tasting.startsAt, house.timeZone)}. Come with a clean palate and no perfume; bring your own small cup. The water is scalding: wait for the host before you lean in.`,
      );
      return [
        {
          kind: 'message',
          key: `reminder:${key}`,
          place: { kind: 'thread', under: `table:${tasting.id}` },
          message,
        },
      ];
    }
    return [];
  });
}

/** The host hears how many notes of a closed table were erased at their writer's wish: never whose, never what. */
export function erasedNotices(
  tasting: Pick<Tasting, 'id' | 'number' | 'host' | 'state'>,
  erased: number,
): readonly Notice[] {
  if (erased === 0) return [];
  const what = erased === 1 ? 'One note was' : `${erased} notes were`;
  const digest = tasting.state === 'decided' ? ' The digest is made anew from what remains.' : '';
  return [
    {
      kind: 'message',
      key: `erased:${tasting.id}`,
      place: { kind: 'direct', person: tasting.host },
      message: say(
        `${what} erased from *${tastingName(tasting)}* at their writer’s wish. Its counts and its verdict are worked out anew without them.${digest}`,
      ),
    },
  ];
}
