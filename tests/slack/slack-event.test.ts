import { expect, test } from 'vitest';
import { receivedFrom } from './support/received.js';

/* What the bot makes of Slack's events, each in one place. */

const place = { type: 'message', channel: 'C1', channel_type: 'channel' };
const said = { user: 'U2NOOR', text: 'lemon', ts: '5.000001', thread_ts: '4.000001' };
const written = { kind: 'message', channel: 'C1', ts: '5.000001', threadTs: '4.000001', person: 'U2NOOR' };
const gone = { kind: 'message_deleted', channel: 'C1', ts: '5.000001', threadTs: '4.000001' };
const changed = { ...place, subtype: 'message_changed', ts: '6.000001', previous_message: said };

test.each([
  ['a note', { ...place, ...said }, { ...written, text: 'lemon', editedTs: null, isDirect: false }],
  ['a note with a file', { ...place, ...said, subtype: 'file_share' }, { ...written, text: 'lemon' }],
  [
    'an edit',
    { ...changed, message: { ...said, text: 'lime', edited: { ts: '6.0' } } },
    { ...written, kind: 'message_changed', text: 'lime', editedTs: '6.0' },
  ],
  [
    'a deletion',
    { ...place, subtype: 'message_deleted', ts: '6.0', deleted_ts: '5.000001', previous_message: said },
    gone,
  ],
  [
    'a deletion that an event tells as a change',
    { ...changed, message: { ...said, subtype: 'tombstone' } },
    gone,
  ],
  ['a tombstone in a thread that is read again', { ...place, ...said, subtype: 'tombstone' }, gone],
  [
    'a direct message',
    { ...place, channel_type: 'im', ...said, text: '<@U0BOT> tally T1' },
    { kind: 'message', isDirect: true, words: 'tally T1' },
  ],
  [
    'a mention',
    { ...said, type: 'app_mention', channel: 'C1', text: '<@U0BOT>: tally&amp;T1' },
    { kind: 'app_mention', words: 'tally&T1' },
  ],
  ['its home tab', { type: 'app_home_opened', user: 'U2NOOR', tab: 'home' }, { person: 'U2NOOR' }],
  ['its own coming', { type: 'member_joined_channel', user: 'U0BOT', channel: 'C1' }, { channel: 'C1' }],
])('%s is read', (_what, event, expected) => {
  expect(receivedFrom(event)).toMatchObject({ workspace: 'T1', ...expected });
});

test.each([
  ['its own message', { ...place, ...said, user: 'U0BOT' }],
  ['a message of another bot', { ...place, ...said, bot_id: 'B0OTHER' }],
  ['Slack’s talk', { ...place, ...said, subtype: 'channel_join' }],
  ['a link preview', { ...changed, message: { ...said, attachments: [{}] } }],
  ['an edited direct message', { ...changed, channel_type: 'im', message: { ...said, text: 'lime' } }],
  ['a mention that Slack repeats', { ...said, type: 'app_mention', channel: 'C1', edited: { ts: '6.0' } }],
  ['its messages tab', { type: 'app_home_opened', user: 'U2NOOR', tab: 'messages' }],
  ['somebody else’s coming', { type: 'member_joined_channel', user: 'U2NOOR', channel: 'C1' }],
])('%s is of no use', (_what, event) => {
  expect(receivedFrom(event)).toBeNull();
});
