import { writeRoute } from '../route.js';
import { botName, getState, me } from '../store.js';
import { h } from '../vendor/preact.js';
import type { Channel } from '../wire.js';

/** The list of places: the bot first, then the channels the person is in. */
export function Rail() {
  const { workspace, route } = getState();
  const person = me();
  if (workspace === null || person === null) return null;
  const mine = workspace.channels.filter(({ members }) => members.includes(person.id));
  const direct = mine.filter(({ kind }) => kind === 'im');
  const channels = mine
    .filter(({ kind }) => kind !== 'im')
    .sort((a, b) => Number(a.isArchived) - Number(b.isArchived) || a.name.localeCompare(b.name));
  return (
    <nav class="pane rail" aria-label="Channels and direct messages">
      <header class="rail-head">
        <p class="house">{workspace.workspace.name}</p>
        <p class="whoami">
          You are <strong>{person.realName}</strong>.{' '}
          <a class="change" href={writeRoute({})}>
            Be someone else
          </a>
        </p>
      </header>
      <h2>Channels</h2>
      <ul>{channels.map((channel) => drawPlace(channel, `#${channel.name}`))}</ul>
      <h2>Direct messages</h2>
      <ul>
        {direct.map((channel) => drawPlace(channel, botName()))}
        <li>
          <a
            class="place"
            href={writeRoute({ handle: route.handle, place: 'home' })}
            aria-current={route.place === 'home' ? 'page' : undefined}
          >
            <span>{botName()}’s home tab</span>
          </a>
        </li>
      </ul>
      {workspace.bot.online ? null : (
        <p class="closed-note">{botName()} is not connected. What you write reaches it when it is back.</p>
      )}
    </nav>
  );
}

function drawPlace(channel: Channel, name: string) {
  const { route, unread } = getState();
  const count = unread.get(channel.id) ?? 0;
  return (
    <li key={channel.id}>
      <a
        class={count > 0 ? 'place place-unread' : 'place'}
        href={writeRoute({ handle: route.handle, place: channel.id })}
        aria-current={route.place === channel.id ? 'page' : undefined}
      >
        <span>
          {name}
          {channel.kind === 'private' ? <small class="faint"> private</small> : null}
          {channel.isArchived ? <small class="faint"> archived</small> : null}
        </span>
        {count > 0 ? (
          <span class="unread" role="img" aria-label={`${count} unread`}>
            {count}
          </span>
        ) : null}
      </a>
    </li>
  );
}
