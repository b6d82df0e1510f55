import type { ActionsBlock } from '@slack/types';
import { formatBp } from '../../domain/measure/hundredths.js';
import { daysAfter } from '../../domain/when/local-day.js';
import { button, buttons } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { AskView } from './ask-view-message.js';
import { askersOf, dayOf, lastEvent, people, person, weight } from './ask-words-message.js';

/** What became of the ask so far, for its roaster; empty while it waits for the first answer. */
export function outcomeLines(view: AskView): readonly string[] {
  const { ask } = view;
  const day = dayOf(view, ask.roastDay);
  if (ask.state === 'asked') return changedLines(view);
  if (ask.state === 'accepted') {
    const by = lastEvent(view, 'agree') ?? lastEvent(view, 'accept');
    const who = by ? (by.what === 'agree' ? `, agreed with ${person(by.who)}` : ` by ${person(by.who)}`) : '';
    return [`✔ *On the plan for ${day}*${who}.`, ...lateLines(view)];
  }
  if (ask.state === 'offered') {
    return [
      `*${dayOf(view, ask.offeredDay ?? ask.roastDay)}* is on offer; ${people(askersOf(view))} will answer.`,
    ];
  }
  if (ask.state === 'declined') {
    const because = lastEvent(view, 'decline')?.because;
    return [
      `*Declined*${because ? `: ${mrkdwn(because)}` : ''}. ${people(askersOf(view))} will see what to do.`,
    ];
  }
  if (ask.state === 'missed') return [`*Not roasted on ${day}.* If it was after all, say what came out.`];
  if (ask.state === 'withdrawn') return ['*No longer needed*, nothing to do. Thank you!'];
  return roastLines(view);
}

function changedLines(view: AskView): readonly string[] {
  const changed = lastEvent(view, 'joined') ?? lastEvent(view, 'grams');
  if (!changed?.greenMg || changed.greenMg[1] !== view.ask.greenMg) return [];
  const [before, after] = changed.greenMg;
  if (before === after) return [];
  const answered = view.events.some((event) => event.what === 'accept' || event.what === 'agree');
  const again = answered ? ' You had accepted; please answer once more.' : '';
  return [`_The charge was ${weight(view, before)} green and is now ${weight(view, after)}._${again}`];
}

function lateLines(view: AskView): readonly string[] {
  return view.ask.roastDay < view.today ? ['Nothing is recorded yet: was it roasted?'] : [];
}

function roastLines(view: AskView): readonly string[] {
  const { roast } = view;
  if (!roast) return ['*Roasted.*'];
  const colour = [roast.level, roast.colour === null ? null : `colour ${roast.colour}`]
    .filter(Boolean)
    .join(', ');
  const lines = [
    `✔ *Roasted ${dayOf(view, roast.roastedOn)}*: ${weight(view, roast.greenMg)} green in, ${weight(view, roast.roastedMg)} out, ${formatBp(roast.lossBp)} loss${colour ? `, ${mrkdwn(colour)}` : ''}.`,
  ];
  if (roast.oddFromBp !== null) {
    lines.push(
      `That loss is more than 2 points from the ${formatBp(roast.oddFromBp)} this coffee has shown. A slip of the scale, or a different roast? If it is a slip, correct it: \`/spoon shelf\``,
    );
  }
  if (roast.remarks) lines.push(`“${mrkdwn(roast.remarks)}”`);
  lines.push(`The next ask for it reckons with ${formatBp(view.loss.lossBp)}.`);
  return lines;
}

/** The answers that are left, the likeliest first. */
export function outcomeButtons(view: AskView): readonly ActionsBlock[] {
  const { ask, today } = view;
  const value = { ask: ask.id };
  const accept = (label: string) => button(label, 'ask.accept', value, { style: 'primary' });
  const offer = button(
    ask.state === 'offered' ? 'Offer a different day' : 'Offer another day',
    'ask.offer',
    value,
  );
  const decline = button(ask.state === 'accepted' ? 'Cannot after all' : 'Decline', 'ask.decline', value);
  const near = daysAfter(today, 1) >= ask.roastDay;
  const roasted = button('Roasted', 'ask.roasted', value, near ? { style: 'primary' } : {});
  if (ask.state === 'asked') return buttons(accept('Accept'), offer, decline);
  if (ask.state === 'offered') return buttons(offer, accept(`Accept ${dayOf(view, ask.roastDay)}`), decline);
  if (ask.state === 'accepted') {
    const missed = button('Not roasted', 'ask.missed', value);
    const past = ask.roastDay <= today;
    return buttons(...(near ? [roasted] : []), ...(past ? [missed] : [decline]));
  }
  if (ask.state === 'missed') return buttons(roasted);
  return [];
}
