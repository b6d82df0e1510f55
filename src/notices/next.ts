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
  const blocks = [section('*What is next for you*'), ...stepBlocks(steps), ...moreBlocks(steps)];
  return {
    text: `What is next for you: ${steps.map((step) => mrkdwnKeepingCode(step.text)).join(' ')}`,
    blocks,
  };
}

/** The same as a home tab. */
export function homeView(steps: readonly NextStep[]): HomeView {
  return {
    type: 'home',
    blocks: [
      header('What is next for you'),
      ...stepBlocks(steps),
      ...moreBlocks(steps),
      context('`/spoon help` shows every word with an example.'),
    ],
  };
}

function stepBlocks(steps: readonly NextStep[]): readonly KnownBlock[] {
  const shown = steps
    .slice(0, MOST_STEPS)
    .map((step, index) =>
      step.label !== null && step.action !== null
        ? section(mrkdwnKeepingCode(step.text), button(step.label, `${step.action}#${index}`, step.value))
        : section(mrkdwnKeepingCode(step.text)),
    );
  return steps.length > MOST_STEPS ? [...shown, context(`And ${steps.length - MOST_STEPS} more.`)] : shown;
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
