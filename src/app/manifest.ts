import { readFileSync } from 'node:fs';
import { z } from 'zod';
import { projectFile } from '../runtime/project-file.js';

const Manifest = z.object({
  features: z.object({
    slash_commands: z.array(z.object({ command: z.string(), should_escape: z.boolean() })),
  }),
  oauth_config: z.object({ scopes: z.object({ bot: z.array(z.string()) }) }),
  settings: z.object({ event_subscriptions: z.object({ bot_events: z.array(z.string()) }) }),
});

/** What the app asks Slack for, from the manifest beside the source: scopes, events, whether mentions in commands are resolved. */
export function readManifest() {
  const manifest = Manifest.parse(JSON.parse(readFileSync(projectFile('manifest.json'), 'utf8')));
  return {
    scopes: manifest.oauth_config.scopes.bot,
    subscriptions: manifest.settings.event_subscriptions.bot_events,
    shouldEscape: manifest.features.slash_commands.every((command) => command.should_escape),
  };
}
