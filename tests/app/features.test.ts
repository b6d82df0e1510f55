import { afterEach, beforeEach, expect, test } from 'vitest';
import { createBot } from '../../src/app/create-bot.js';
import { listFeatures, verbsOf } from '../../src/app/features.js';
import type { Feature } from '../../src/commands/common/bot.js';
import { say } from '../../src/kit/blocks.js';
import { type OpenDatabase, openDatabase } from '../../src/store/sqlite/open.js';
import { depsAt } from '../commands/common/deps-at.js';
import { textsOf } from '../commands/common/play-feature.js';

/* A feature that nobody else knows of: listed once, it is there for everybody. */
const calls: string[] = [];
const weigh: Feature = {
  verb: {
    name: 'weigh',
    does: 'weigh a cup again',
    example: '/spoon weigh T4',
    run: async (_, typed) => ({ message: say(`weighed ${typed.words}`) }),
  },
  taps: {
    'weigh.again': { for: 'change table', run: async () => ({ message: say('weighed again') }) },
    'weigh.note': { for: 'taste', run: async () => ({}) },
  },
  forms: { 'weigh.form': { for: 'change table', run: async () => ({ closeAll: true }) } },
  subjects: {
    scale: {
      notices: async (_, workspace, subject) => [
        {
          kind: 'message',
          key: `${workspace} ${subject}`,
          place: { kind: 'channel', channel: 'C1' },
          message: say('level'),
        },
      ],
      due: async (_, { subject }) => void calls.push(subject),
    },
  },
};

const who = { workspace: 'T1', person: 'U0INES' };
const features = listFeatures([weigh]);
const bot = createBot(features);
let open: OpenDatabase;
beforeEach(async () => {
  open = await openDatabase(':memory:');
});
afterEach(() => open.close());
const deps = () => depsAt(open.db, '2026-11-02T10:00:00Z');
const typed = (words: string) =>
  bot.typed(deps(), { who, channel: 'C1', threadTs: null, words, by: 'slash' });
const tapped = (action: string) => ({
  ...{ who, action, value: '{}', selected: [], channel: 'C1' },
  ...{ messageTs: null, threadTs: null, form: null },
});

test('a verb listed with its feature is understood, helped with and hinted at', async () => {
  expect((await typed('weigh T4')).message?.text).toBe('weighed T4');
  expect(textsOf(await typed('help'))).toContain('/spoon weigh T4');
  const names = verbsOf(features).map(({ name }) => name);
  expect(names).toContain('weigh');
  expect(names.join(' | ')).toContain(' | weigh | help');
  await expect(typed('wiegh')).rejects.toThrow('wiegh');
});

test('a button and a form listed with their feature are doors with an action of the permission table', async () => {
  expect((await bot.tapped(deps(), tapped('weigh.again#1'))).message?.text).toBe('weighed again');
  const form = { id: 'V1', callback: 'weigh.form', privateMetadata: '', values: new Map() };
  expect(await bot.submitted(deps(), { who, form })).toEqual({ closeAll: true });
  expect(await bot.tapped(deps(), tapped('weigh.note'))).toEqual({});
  const doors = features.flatMap((feature) => Object.entries({ ...feature.taps, ...feature.forms }));
  expect(doors.filter(([name]) => name.startsWith('weigh')).map(([name, door]) => [name, door.for])).toEqual([
    ['weigh.again', 'change table'],
    ['weigh.note', 'taste'],
    ['weigh.form', 'change table'],
  ]);
});

test('what stands about its subjects, and a reminder that is due, are asked of the feature', async () => {
  expect((await bot.notices(deps(), 'T1', 'scale:7')).map(({ key }) => key)).toEqual(['T1 scale:7']);
  expect(await bot.notices(deps(), 'T1', 'kettle:7')).toEqual([]);
  await bot.due(deps(), { workspace: 'T1', key: 'k', subject: 'scale:7', kind: 'level' });
  expect(calls).toEqual(['scale:7']);
});
