import { z } from 'zod';
import { parseRatio } from '../../domain/ratio/parse-ratio.js';
import { may } from '../../domain/record/permission.js';
import { cupRatio, type TableSetting } from '../../domain/record/table-setting.js';
import { tastingName } from '../../domain/record/tasting.js';
import { winnerOf } from '../../domain/result/table-result.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/notice.js';
import { UserError } from '../../runtime/errors.js';
import { loadHouse } from '../../store/house.js';
import { openBookForm } from '../booking/book.js';
import { recipeComponents } from '../booking/book-tasting.js';
import type { Answer, Deps, Feature } from '../common/bot.js';
import {
  OfTasting,
  readValue,
  type Tap,
  type Typed,
  tastingOf,
  type Who,
  written,
} from '../common/intake.js';
import { loadTable, requireTable, requireTableAt, whichTasting } from '../common/load-table.js';
import { requireAllowed, standingOf } from '../common/standing.js';
import { isHidden } from '../common/table-view.js';
import { addRatio, planPourAt } from './add-ratio.js';
import { POUR_FORM, pouredMessage, pourForm } from './pour-message.js';

const RatioValue = OfTasting.extend({ ratio: z.array(z.number().int().nonnegative()).min(1).max(24) });

export const pour: Feature = {
  verb: {
    name: 'pour',
    does: 'add a ratio: poured at an open table, weighed before',
    example: '/spoon pour T4 3:2:1',
    run: typedPour,
  },
  taps: {
    'pour.book': { for: 'look at table', run: bookPoured },
    'pour.form': {
      for: 'pour',
      run: (deps, tap) => openPourForm(deps, tap.who, tastingOf(tap)),
    },
    'pour.ratio': {
      for: 'pour',
      run: async (deps, tap) => {
        const { tasting, ratio } = readValue(RatioValue, tap.value);
        return {
          message: await pourRatio(
            deps,
            tap.who,
            await requireTable(deps.db, tap.who.workspace, tasting),
            ratio,
            null,
          ),
        };
      },
    },
  },
  forms: {
    [POUR_FORM]: {
      for: 'pour',
      run: async (deps, { who, form }) => {
        const table = await requireTable(
          deps.db,
          who.workspace,
          readValue(OfTasting, form.privateMetadata).tasting,
        );
        return { message: await pourWords(deps, who, table, written(form, 'ratio')) };
      },
    },
  },
  subjects: {},
};

async function typedPour(deps: Deps, typed: Typed): Promise<Answer> {
  const states = ['open', 'ready', 'booked'] as const;
  const { tasting, rest } = await whichTasting(deps.db, typed, states, '/spoon pour T4 3:2:1');
  if (rest === '') return openPourForm(deps, typed.who, tasting.id);
  return {
    message: await pourWords(deps, typed.who, await loadTable(deps.db, typed.who.workspace, tasting), rest),
  };
}

async function openPourForm(deps: Deps, who: Who, tastingId: number): Promise<Answer> {
  const table = await requireTable(deps.db, who.workspace, tastingId);
  await requireAllowed(deps.db, who, 'pour', table.tasting);
  return { form: pourForm(table) };
}

async function pourWords(deps: Deps, who: Who, table: TableSetting, words: string): Promise<Message> {
  const parsed = parseRatio(words, await recipeComponents(deps.db, who.workspace, table.recipe));
  if (!parsed.ok)
    throw new UserError(
      mrkdwn(parsed.message),
      `Like \`/spoon pour ${tastingName(table.tasting)} 3:2:1\``,
      'ratio',
    );
  const only = parsed.parts.filter((part) => part > 0).length < 2;
  if (only)
    throw new UserError(
      'That is one coffee alone, which has its own cup already.',
      `Name at least two coffees, like \`/spoon pour ${tastingName(table.tasting)} 3:2:1\``,
      'ratio',
    );
  return pourRatio(deps, who, table, parsed.parts, parsed.saidSo);
}

async function pourRatio(
  deps: Deps,
  who: Who,
  table: TableSetting,
  ratio: readonly number[],
  saidSo: string | null,
): Promise<Message> {
  const cup = await addRatio(deps, who, table, ratio);
  const plan = cup.kind === 'pour' ? await planPourAt(deps.db, who.workspace, table, cup) : null;
  const house = await loadHouse(deps.db, who.workspace);
  const seesCodes = !isHidden(table) || may('see codes', standingOf(who.person, house, table));
  return pouredMessage(cup, table, plan, saidSo, seesCodes);
}

/** A poured winner is a preview: opens the booking form with its ratio, to be weighed and cupped. */
async function bookPoured(deps: Deps, tap: Tap): Promise<Answer> {
  const { who } = tap;
  const id = tastingOf(tap);
  const setting = await requireTableAt(deps.db, who, tap.channel, id);
  const { tasting, recipe } = setting;
  const winner = winnerOf(setting);
  if (winner?.kind !== 'pour')
    throw new UserError('There is no poured winner to book.', 'Book any ratio: `/spoon book`');
  return openBookForm(
    deps,
    { who, channel: tasting.channel },
    {
      recipe: recipe.name,
      at: null,
      whenNote: null,
      ratios: [cupRatio(winner, recipe)],
      people: tasting.invited,
      blind: tasting.blind,
      format: tasting.format,
      tables: tasting.tables,
      brief: tasting.brief,
    },
  );
}
