import { botName, getState } from '../store.js';
import { h } from '../vendor/preact.js';
import { Blocks } from './blocks.js';

/** The bot's home tab, as it last published it for this person. */
export function Home() {
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
