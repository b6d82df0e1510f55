import type { HomeView, KnownBlock } from '@slack/types';
import { button, buttons, context, header, section } from './blocks.js';
import { mrkdwn } from './escape.js';
import type { Message } from './message.js';

/** One thing to do, with the button that does it. */
export type NextStep = {
  readonly text: string;
  readonly label: string | null;
  readonly action: string | null;
  readonly value: unknown;
};

const MOST_STEPS = 12;

/** What is next for one person. */
export function nextMessage(steps: readonly NextStep[]): Message {
  const shown = shownSteps(steps);
  const more = steps.length > shown.length ? [moreSteps(steps)] : [];
  return {
    text: `What is next for you: ${[...shown.map(({ words }) => words), ...more].join(' ')}`,
    blocks: [section('*What is next for you*'), ...stepBlocks(steps, shown), ...moreBlocks(steps)],
  };
}

/** The same as a home tab. */
export function homeView(steps: readonly NextStep[]): HomeView {
  return {
    type: 'home',
    blocks: [
      header('What is next for you'),
      ...stepBlocks(steps, shownSteps(steps)),
      ...moreBlocks(steps),
      context('`/spoon help` shows every word with an example.'),
    ],
  };
}

type Shown = { readonly step: NextStep; readonly words: string };

function shownSteps(steps: readonly NextStep[]): readonly Shown[] {
  return steps.slice(0, MOST_STEPS).map((step) => ({ step, words: mrkdwnKeepingCode(step.text) }));
}

function moreSteps(steps: readonly NextStep[]): string {
  return `And ${steps.length - MOST_STEPS} more.`;
}

function stepBlocks(steps: readonly NextStep[], shown: readonly Shown[]): readonly KnownBlock[] {
  const blocks = shown.map(({ step: { label, action, value }, words }, index) =>
    label !== null && action !== null
      ? section(words, button(label, `${action}#${index}`, value))
      : section(words),
  );
  return steps.length > shown.length ? [...blocks, context(moreSteps(steps))] : blocks;
}

/** Our own sentences may hold `code`; whatever came from people in them is escaped all the same. */
function mrkdwnKeepingCode(text: string): string {
  return text
    .split('`')
    .map((piece, index) =>
      index % 2 === 1 ? `\`${piece}\`` : mrkdwn(piece) + (/\s$/.test(piece) ? ' ' : ''),
    )
    .join('');
}

function moreBlocks(steps: readonly NextStep[]): readonly KnownBlock[] {
  const offered = steps.some((step) => step.action === 'book.form');
  return buttons(
    ...(offered ? [] : [button('Book a tasting', 'book.form#new', {})]),
    button('Shelf', 'shelf.list#home', {}),
    button('Help', 'help.show#home', {}),
  );
}
