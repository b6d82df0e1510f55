import { writeRoute } from '../route.js';
import { botName, getState, me, placeKey } from '../store.js';
import { h } from '../vendor/preact.js';
import type { Channel } from '../wire.js';
import { Blocks } from './blocks.js';
import { Composer } from './composer.js';
import { MessageList } from './message-list.js';

/** A channel, a direct message or the bot's home tab. */
export function Room() {
  const { route, workspace } = getState();
  if (route.place === null) {
    return (
      <main class="pane room">
        <p class="empty">Pick a channel to read along.</p>
      </main>
    );
  }
  if (route.place === 'home') {
    return (
      <main class="pane room">
        <BotHead current="home" />
        <Home />
      </main>
    );
  }
  const channel = workspace?.channels.find(({ id }) => id === route.place);
  if (channel === undefined) {
    return (
      <main class="pane room">
        <BackToList />
        <p class="empty">There is no such channel here.</p>
      </main>
    );
  }
  return <ChannelRoom channel={channel} />;
}

function ChannelRoom({ channel }: { readonly channel: Channel }) {
  const { messages } = getState();
  const isDirect = channel.kind === 'im';
  const name = isDirect ? botName() : `#${channel.name}`;
  const isMember = channel.members.includes(me()?.id ?? '');
  return (
    <main class="pane room">
      {isDirect ? <BotHead current="messages" /> : <ChannelHead channel={channel} />}
      <MessageList
        messages={messages.get(placeKey(channel.id, null))}
        place={channel.id}
        inThread={false}
        empty={
          isDirect
            ? `Nothing here yet. Write to ${name}, or type /spoon to hear what is next for you.`
            : `Nothing in ${name} yet. Say something, or type /spoon help.`
        }
      />
      {channel.isArchived || !isMember ? (
        <p class="closed-note">
          {channel.isArchived
            ? 'This channel is archived: one can read it, nobody can write.'
            : 'You are not in this channel.'}
        </p>
      ) : (
        <Composer channel={channel.id} thread={null} label={`Write to ${name}, or type /spoon`} />
      )}
    </main>
  );
}

function BackToList() {
  const { route, unread } = getState();
  const waiting = [...unread].filter(([id, count]) => count > 0 && id !== route.place).length;
  return (
    <a class="back" href={writeRoute({ handle: route.handle })}>
      <span aria-hidden="true">‹</span>
      <span class="visually-hidden">Back to the list</span>
      {waiting > 0 ? <span class="back-mark" role="img" aria-label="Unread messages elsewhere" /> : null}
    </a>
  );
}

function ChannelHead({ channel }: { readonly channel: Channel }) {
  const people = getState().workspace?.people ?? [];
  const here = people.filter(({ id, isBot }) => channel.members.includes(id) && !isBot).length;
  return (
    <header class="pane-head">
      <BackToList />
      <h1 tabIndex={-1}>#{channel.name}</h1>
      <span class="faint">{here === 1 ? '1 person' : `${here} people`}</span>
    </header>
  );
}

function BotHead({ current }: { readonly current: 'messages' | 'home' }) {
  const { route, workspace } = getState();
  const direct = workspace?.channels.find(
    ({ kind, members }) => kind === 'im' && members.includes(me()?.id ?? ''),
  );
  return (
    <header class="pane-head">
      <BackToList />
      <h1 tabIndex={-1}>{botName()}</h1>
      <nav class="tabs" aria-label={botName()}>
        <a
          href={writeRoute({ handle: route.handle, place: direct?.id ?? null })}
          aria-current={current === 'messages' ? 'page' : undefined}
        >
          Messages
        </a>
        <a
          href={writeRoute({ handle: route.handle, place: 'home' })}
          aria-current={current === 'home' ? 'page' : undefined}
        >
          Home
        </a>
      </nav>
    </header>
  );
}

/** The bot's home tab, as it last published it for this person. */
function Home() {
  const { home } = getState();
  if (home === null) {
    return (
      <div class="home">
        <p class="empty">{botName()} has put nothing here yet.</p>
      </div>
    );
  }
  return (
    <div class="home" key={home.id}>
      <Blocks blocks={home.blocks} place={{ kind: 'view', id: home.id }} />
    </div>
  );
}

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
