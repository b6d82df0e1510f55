import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { z } from 'zod';
import { listFeatures, verbsOf } from '../../src/app/features.js';
import { EVENT_TYPES } from '../../src/slack/in/slack-event.js';
import { EVENTS, METHODS, neededScopes } from '../../src/slack/out/methods.js';

const Manifest = z.object({
  features: z.object({
    app_home: z.object({
      home_tab_enabled: z.boolean(),
      messages_tab_enabled: z.boolean(),
      messages_tab_read_only_enabled: z.boolean(),
    }),
    slash_commands: z.array(
      z.object({ command: z.string(), usage_hint: z.string(), should_escape: z.boolean() }),
    ),
  }),
  oauth_config: z.object({ scopes: z.object({ bot: z.array(z.string()) }) }),
  settings: z.object({ event_subscriptions: z.object({ bot_events: z.array(z.string()) }) }),
});
const manifest = Manifest.parse(JSON.parse(readFileSync('manifest.json', 'utf8')));

function sources(folder: string): string {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
    .map((entry) => readFileSync(`${entry.parentPath}/${entry.name}`, 'utf8'))
    .join('\n');
}

test('the list of Web API methods is exactly what the code calls', () => {
  const code = sources('src/slack') + sources('src/cli');
  const called = [...code.matchAll(/\bweb\s*\.([a-z]+)\s*\.([a-zA-Z]+)\(/g)].map(
    (match) => `${match[1]}.${match[2]}`,
  );
  expect([...new Set(called)].sort()).toEqual([...METHODS.keys()].sort());
});

test('the manifest asks for every scope that a method or an event needs, and for no other', () => {
  expect([...manifest.oauth_config.scopes.bot].sort()).toEqual(neededScopes());
});

test('the manifest subscribes to every event the bot listens to, and to no other', () => {
  const subscribed = manifest.settings.event_subscriptions.bot_events;
  expect([...subscribed].sort()).toEqual([...EVENTS.keys()].sort());
  const types = new Set(subscribed.map((name) => name.replace(/^message\..*/, 'message')));
  expect([...types].sort()).toEqual([...EVENT_TYPES].sort());
});

test('people can write to the bot, and the one command names every verb and has its mentions resolved', () => {
  expect(manifest.features.app_home).toEqual({
    home_tab_enabled: true,
    messages_tab_enabled: true,
    messages_tab_read_only_enabled: false,
  });
  const [spoon, ...more] = manifest.features.slash_commands;
  expect(more).toEqual([]);
  expect(spoon).toMatchObject({ command: '/spoon', should_escape: true });
  const verbs = verbsOf(listFeatures()).map(({ name }) => name);
  expect(spoon?.usage_hint).toBe(verbs.join(' | '));
});
