import { writeRoute } from '../route.js';
import { botName, getState, placeKey } from '../store.js';
import { h } from '../vendor/preact.js';
import { Composer } from './composer.js';
import { MessageList } from './message-list.js';

/** A message with its replies. */
export function Thread({ channelId, ts }: { readonly channelId: string; readonly ts: string }) {
  const { route, workspace, messages } = getState();
  const channel = workspace?.channels.find(({ id }) => id === channelId);
  const name = channel?.kind === 'im' ? botName() : `#${channel?.name ?? ''}`;
  return (
    <aside class="pane thread" aria-label="Thread">
      <header class="pane-head">
        <a class="back" href={writeRoute({ handle: route.handle, place: channelId })}>
          <span class="on-phone" aria-hidden="true">
            ‹
          </span>
          <span class="on-desk" aria-hidden="true">
            ×
          </span>
          <span class="visually-hidden">Close the thread, back to {name}</span>
        </a>
        <h1 tabIndex={-1}>Thread</h1>
        <span class="faint">in {name}</span>
      </header>
      <MessageList
        messages={messages.get(placeKey(channelId, ts))}
        place={placeKey(channelId, ts)}
        inThread
        empty="This thread is gone."
      />
      {channel?.isArchived ? null : <Composer channel={channelId} thread={ts} label="Reply in this thread" />}
    </aside>
  );
}
