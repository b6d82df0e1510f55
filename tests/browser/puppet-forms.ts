import type { Block, KnownBlock, ModalView } from '@slack/types';

function plain(text: string) {
  return { type: 'plain_text' as const, text };
}

function option(text: string) {
  return { text: plain(text), value: text };
}

function input(blockId: string, label: string, element: Extract<KnownBlock, { type: 'input' }>['element']) {
  return { type: 'input' as const, block_id: blockId, label: plain(label), element };
}

/** A form with every element a bot may put into one. */
export const everyElement: ModalView = {
  type: 'modal',
  callback_id: 'everything',
  title: plain('Book a tasting'),
  submit: plain('Book it'),
  close: plain('Leave it'),
  blocks: [
    { type: 'section', text: { type: 'mrkdwn', text: 'One *blend*, its coffees alone.' } },
    input('blend', 'Blend', {
      type: 'static_select',
      action_id: 'v',
      options: [option('Harbour Lamp'), option('Night Ferry')],
    }),
    {
      ...input('ratios', 'Other ratios', { type: 'plain_text_input', action_id: 'v', multiline: true }),
      hint: plain('One per line'),
    },
    input('who', 'Who comes', { type: 'multi_users_select', action_id: 'v' }),
    input('host', 'Host', { type: 'users_select', action_id: 'v' }),
    input('where', 'Where', { type: 'channels_select', action_id: 'v' }),
    input('how', 'How', {
      type: 'radio_buttons',
      action_id: 'v',
      options: [option('Open'), option('Blind')],
    }),
    input('also', 'Also', {
      type: 'checkboxes',
      action_id: 'v',
      options: [option('Purge'), option('Spare')],
    }),
    input('coffees', 'Coffees', {
      type: 'multi_static_select',
      action_id: 'v',
      options: [option('Chirinos'), option('Kayanza Hill'), option('Nubosa Natural')],
    }),
    input('day', 'Day', { type: 'datepicker', action_id: 'v' }),
    input('time', 'Time', { type: 'timepicker', action_id: 'v' }),
    input('dose', 'Dose', { type: 'plain_text_input', action_id: 'v', max_length: 5 }),
    {
      type: 'actions',
      block_id: 'more',
      elements: [{ type: 'button', action_id: 'push', text: plain('Look closer') }],
    },
  ],
};

export const closerLook: ModalView = {
  type: 'modal',
  callback_id: 'closer',
  title: plain('A closer look'),
  blocks: [{ type: 'section', text: { type: 'mrkdwn', text: 'Mind the kettle.' } }],
};

/** A card with a button that asks first. */
export const card: (Block | KnownBlock)[] = [
  { type: 'header', text: plain('T1 · Harbour Lamp') },
  {
    type: 'section',
    fields: [
      { type: 'mrkdwn', text: '*Host*\nInes' },
      { type: 'mrkdwn', text: '*When*\nfriday' },
    ],
  },
  {
    type: 'actions',
    block_id: 'card',
    elements: [
      { type: 'button', action_id: 'accept', text: plain('Accept'), style: 'primary', value: 'T1' },
      {
        type: 'button',
        action_id: 'cancel',
        text: plain('Cancel'),
        style: 'danger',
        value: 'T1',
        confirm: {
          title: plain('Cancel the tasting?'),
          text: plain('Everybody is told.'),
          confirm: plain('Cancel it'),
          deny: plain('Keep it'),
        },
      },
    ],
  },
];
