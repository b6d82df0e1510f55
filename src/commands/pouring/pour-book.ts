import { z } from 'zod';
import { cupById } from '../../domain/record/table-result.js';
import { cupRatio } from '../../domain/record/table-setting.js';
import { KindRefusal } from '../../runtime/errors.js';
import { openBookForm } from '../booking/book-open.js';
import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import type { Tap } from '../common/intake.js';
import { requireTableAt } from '../common/load-table.js';
import { Id, readValue } from '../common/values.js';

const Value = z.object({ tasting: Id });

/** A poured winner is a preview: opens the booking form with its ratio, to be weighed and cupped. */
export async function bookPoured(deps: Deps, tap: Tap): Promise<Answer> {
  const { who } = tap;
  const id = readValue(Value, tap.value).tasting;
  const setting = await requireTableAt(deps.db, who, tap.channel, id);
  const { tasting, recipe } = setting;
  const winner = tasting.winnerCupId === null ? undefined : cupById(setting, tasting.winnerCupId);
  if (winner?.kind !== 'pour')
    throw new KindRefusal('not now', 'There is no poured winner to book.', 'Book any ratio: `/spoon book`');
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
