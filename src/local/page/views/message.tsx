import { toggleReaction } from '../moves/speak.js';
import { go } from '../moves/travel.js';
import { botName, getState, me, nameOf, update, workspaceNow, zone } from '../store.js';
import { emojiOrName } from '../text/emoji.js';
import { ago, clockTime, instantOf } from '../text/time.js';
import { h } from '../vendor/preact.js';
import type { PageMessage } from '../wire.js';
import { Blocks } from './blocks.js';
import { EditBox, MessageMenu } from './message-menu.js';
import { Files } from './picture.js';
import { Mrkdwn } from './words.js';

interface MessageProps {
  readonly message: PageMessage;
  /** True when the one before is by the same hand, moments ago. */
  readonly follows: boolean;
  readonly inThread: boolean;
}

function isByBot(message: PageMessage): boolean {
  return message.botId !== null || message.user === getState().workspace?.bot.userId;
}

export function Message({ message, follows, inThread }: MessageProps) {
  const { spoken, editing, menu } = getState();
  const isBot = isByBot(message);
  const author = isBot ? botName() : nameOf(message.user);
  const at = instantOf(message.ts);
  const kinds = [
    'slip',
    isBot ? 'slip-bot' : '',
    message.ephemeral ? 'slip-private' : '',
    follows ? 'slip-follows' : '',
  ];
  const key = menuKey(message, inThread);
  return (
    <article
      class={kinds.join(' ').trim()}
      aria-label={`${author}, ${clockTime(at, zone())}`}
      data-ts={message.ts}
      onContextMenu={(event) => {
        // A long press on a touch screen; a mouse keeps its own menu.
        if (event instanceof PointerEvent && event.pointerType === 'mouse') return;
        event.preventDefault();
        update({ menu: key });
      }}
    >
      <span class="stamp" aria-hidden="true">
        {isBot ? <span class="stamp-bowl" /> : author.slice(0, 2)}
      </span>
      <header class="slip-head">
        <strong class="author">{author}</strong>
        <time dateTime={at.toISOString()} title={at.toISOString()}>
          {clockTime(at, zone())}
        </time>
        {message.edited ? <span class="faint">edited</span> : null}
        {message.ephemeral ? <span class="private-mark">only you can see this</span> : null}
      </header>
      <MessageMenu message={message} open={menu === key} menuKey={key} inThread={inThread} />
      <div class="slip-body">
        {editing === message.ts ? <EditBox message={message} /> : <Body message={message} />}
        {spoken && message.blocks.length > 0 ? <Spoken text={message.text} /> : null}
        <Files files={message.files} />
        <Reactions message={message} />
        {inThread || message.replyCount === 0 ? null : <Replies message={message} />}
      </div>
    </article>
  );
}

function menuKey(message: PageMessage, inThread: boolean): string {
  return `${inThread ? 'thread' : 'room'} ${message.ts}`;
}

function Body({ message }: { readonly message: PageMessage }) {
  if (message.deleted) return <p class="faint">This message was deleted; its replies stay.</p>;
  if (message.blocks.length === 0) return <Mrkdwn text={message.text} />;
  const place = { kind: 'message', channel: message.channel, ts: message.ts } as const;
  return <Blocks blocks={message.blocks} place={place} />;
}

function Spoken({ text }: { readonly text: string }) {
  return (
    <div class="spoken">
      <span class="spoken-mark">Read aloud</span>
      {text === '' ? <p class="wrong">Nothing: this message has no text.</p> : <Mrkdwn text={text} />}
    </div>
  );
}

function Replies({ message }: { readonly message: PageMessage }) {
  const { route } = getState();
  const { replyCount, latestReply } = message;
  const count = replyCount === 1 ? '1 reply' : `${replyCount} replies`;
  const last = latestReply === null ? '' : `, last ${ago(instantOf(latestReply), workspaceNow())}`;
  return (
    <button
      type="button"
      class="replies"
      onClick={() => go({ ...route, place: message.channel, thread: message.ts })}
    >
      {count}
      <span class="faint">{last}</span>
    </button>
  );
}

function Reactions({ message }: { readonly message: PageMessage }) {
  if (message.reactions.length === 0) return null;
  const person = me();
  return (
    <div class="reactions">
      {message.reactions.map(({ name, users }) => (
        <button
          type="button"
          class="reaction"
          aria-pressed={person !== null && users.includes(person.id)}
          title={users.map((id) => nameOf(id)).join(', ')}
          onClick={() => void toggleReaction(message, name)}
        >
          {emojiOrName(name)} <span class="count">{users.length}</span>
          <span class="visually-hidden">
            {name}: {users.map((id) => nameOf(id)).join(', ')}
          </span>
        </button>
      ))}
    </div>
  );
}
