import type { HomeView, KnownBlock } from '@slack/types';
import { button, buttons, context, header, section, sections } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';

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
  const fitting = whatFits(steps);
  const words = [...fitting.shown.map((step) => step.words), ...fitting.more];
  return {
    text: `What is next for you: ${words.join(' ')}`,
    blocks: [section('*What is next for you*'), ...stepBlocks(fitting), ...moreBlocks(steps)],
  };
}

/** The same as a home tab. */
export function homeView(steps: readonly NextStep[]): HomeView {
  return {
    type: 'home',
    blocks: [
      header('What is next for you'),
      ...stepBlocks(whatFits(steps)),
      ...moreBlocks(steps),
      context('`/spoon help` shows every word with an example.'),
    ],
  };
}

/** The steps that are shown, their words made safe, and what is said of the others, if there are any. */
type Fitting = {
  readonly shown: readonly (NextStep & { readonly words: string })[];
  readonly more: readonly string[];
};

function whatFits(steps: readonly NextStep[]): Fitting {
  const left = steps.length - MOST_STEPS;
  return {
    shown: steps.slice(0, MOST_STEPS).map((step) => ({ ...step, words: mrkdwnKeepingCode(step.text) })),
    more: left > 0 ? [`And ${left} more.`] : [],
  };
}

function stepBlocks({ shown, more }: Fitting): readonly KnownBlock[] {
  const blocks = shown.map(({ words, label, action, value }, index) =>
    label !== null && action !== null
      ? section(words, button(label, `${action}#${index}`, value))
      : section(words),
  );
  return [...blocks, ...more.map((line) => context(line))];
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
