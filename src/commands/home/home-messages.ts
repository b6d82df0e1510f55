import type { HomeView, KnownBlock } from '@slack/types';
import { button, buttons, context, header, section, sections } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/notice.js';

/** What the bot says when it is invited to a channel: what it is for, and what to do first. */
export function helloMessage(setUp: boolean): Message {
  const first = setUp
    ? 'Type `/spoon book` to book a table.'
    : 'First tell me about the house: roast days, roaster, drums.';
  const text = `I run component tastings here: every coffee of a blend alone, beside the blend and other ratios. ${first}`;
  const more = 'I read only the threads of my own tables and keep nothing else that is said here.';
  return {
    text: `${text} ${more}`,
    blocks: [
      section(`${text}\n${more}`),
      ...buttons(
        setUp
          ? button('Book a tasting', 'book.form#hello', {}, { style: 'primary' })
          : button('Set up the house', 'house.first#hello', {}, { style: 'primary' }),
        button('What I can do', 'help.show#hello', {}),
      ),
    ],
  };
}

type HelpLine = { readonly name: string; readonly does: string; readonly example: string };

/** Every verb with what it is for and an example. */
export function helpMessage(lines: readonly HelpLine[]): Message {
  const said = lines.map((line) => `*${line.name}*  ${line.does}\n\`${line.example}\``);
  return {
    text: `Words I know: ${lines.map((line) => line.name).join(', ')}. Example: ${lines[0]?.example ?? '/spoon book'}`,
    blocks: [
      header('What I can do'),
      ...sections(said),
      context('In a thread, write `@Tallyspoon` instead of `/spoon`. A word alone opens a form.'),
      context('Tasting notes need no command: reply under a cup in your own words.'),
      ...buttons(button('Book a tasting', 'book.form#help', {})),
    ],
  };
}

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
  const words = steps.slice(0, MOST_STEPS).map(wordsOf);
  return {
    text: `What is next for you: ${[...words, ...leftOf(steps)].join(' ')}`,
    blocks: [section('*What is next for you*'), ...stepBlocks(steps), ...moreBlocks(steps)],
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

/** What is said of the steps that are not shown, if there are any. */
function leftOf(steps: readonly NextStep[]): readonly string[] {
  const left = steps.length - MOST_STEPS;
  return left > 0 ? [`And ${left} more.`] : [];
}

function stepBlocks(steps: readonly NextStep[]): readonly KnownBlock[] {
  const blocks = steps.slice(0, MOST_STEPS).map((step, index) => {
    const { label, action, value } = step;
    const tap = label === null || action === null ? undefined : button(label, `${action}#${index}`, value);
    return section(wordsOf(step), tap);
  });
  return [...blocks, ...leftOf(steps).map((line) => context(line))];
}

/** Our own sentences may hold `code`; whatever came from people in them is escaped all the same. */
function wordsOf({ text }: NextStep): string {
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
