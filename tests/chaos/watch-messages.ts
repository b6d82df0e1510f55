import type { World } from './world.js';

export type Watch = { onMessage: () => void; stop(): void };

/** Hears of every message that is posted, changed or deleted in the workspace. */
export async function watchMessages(world: World): Promise<Watch> {
  const stopping = new AbortController();
  const response = await fetch(`${world.workspace.url}/local/stream`, { signal: stopping.signal });
  const watch: Watch = { onMessage: () => {}, stop: () => stopping.abort() };
  void listen(response, watch).catch(() => {});
  return watch;
}

async function listen(response: Response, watch: Watch): Promise<void> {
  if (!response.body) return;
  const decoder = new TextDecoder();
  for await (const chunk of response.body) {
    const told = decoder.decode(chunk, { stream: true }).split('"kind":"message"').length - 1;
    for (let one = 0; one < told; one += 1) watch.onMessage();
  }
}
