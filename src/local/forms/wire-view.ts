import type { View } from '../api-types.js';
import { objectIn, objectsIn, textIn } from '../block-kit/walk.js';
import type { Identity } from '../identity.js';
import type { StoredView } from '../state/views.js';
import { stateValues } from './form-state.js';

/** A view as Slack's API and payloads show it, with what its person has typed. */
export function wireView(identity: Identity, view: StoredView) {
  const { definition } = view;
  const blocks = [...objectsIn(definition['blocks'])];
  return {
    id: view.id,
    team_id: identity.teamId,
    type: view.kind,
    title: objectIn(definition['title']) ?? { type: 'plain_text', text: 'View Title', emoji: true },
    blocks,
    private_metadata: textIn(definition['private_metadata']) ?? '',
    callback_id: textIn(definition['callback_id']) ?? '',
    external_id: view.externalId ?? '',
    submit: objectIn(definition['submit']) ?? null,
    close: objectIn(definition['close']) ?? null,
    clear_on_close: definition['clear_on_close'] === true,
    notify_on_close: definition['notify_on_close'] === true,
    state: { values: stateValues(blocks, view.typed) },
    hash: view.hash,
    root_view_id: view.rootId,
    previous_view_id: view.previousId,
    app_id: identity.appId,
    app_installed_team_id: identity.teamId,
    bot_id: identity.botId,
  } satisfies View;
}
