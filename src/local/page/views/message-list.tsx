import { workspaceNow, zone } from '../store.js';
import { dayHeading, dayOf, instantOf } from '../text/time.js';
import { h } from '../vendor/preact.js';
import type { PageMessage } from '../wire.js';
import { Message } from './message.js';

interface MessageListProps {
  readonly messages: readonly PageMessage[] | undefined;
  readonly place: string;
  readonly inThread: boolean;
  readonly empty: string;
}

/** Messages oldest first, with a heading for each day of the workspace's calendar. */
export function MessageList({ messages, place, inThread, empty }: MessageListProps) {
  return (
    <div class="messages" data-stick={place} key={place} role="log" aria-live="off" tabIndex={-1}>
      {messages === undefined ? <p class="empty">Fetching the messages…</p> : null}
      {messages?.length === 0 ? <p class="empty">{empty}</p> : null}
      {messages?.map((message, index) => {
        const before = messages[index - 1];
        const opensDay = before === undefined || dayKey(before) !== dayKey(message);
        return [
          opensDay ? (
            <h2 class="day" key={`day-${dayKey(message)}-${message.ts}`}>
              {dayHeading(instantOf(message.ts), workspaceNow(), zone())}
            </h2>
          ) : null,
          <Message
            key={message.ts}
            message={message}
            inThread={inThread}
            follows={!opensDay && before !== undefined && follows(before, message)}
          />,
        ];
      })}
    </div>
  );
}

function dayKey(message: PageMessage): string {
  return dayOf(instantOf(message.ts), zone());
}

function follows(before: PageMessage, message: PageMessage): boolean {
  const apart = instantOf(message.ts).getTime() - instantOf(before.ts).getTime();
  return (
    message.botId === null &&
    !message.ephemeral &&
    !before.ephemeral &&
    before.user === message.user &&
    before.botId === null &&
    apart < 5 * 60_000
  );
}
