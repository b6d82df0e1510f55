import { z } from 'zod';
import { formatRatio } from '../../domain/ratio/parts.js';
import { nextAtTable } from '../../domain/record/table-result.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { openBookForm } from '../booking/book-open.js';
import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import type { Tap } from '../common/intake.js';
import { loadResult } from '../common/load-result.js';
import { requireTableAt } from '../common/load-table.js';
import { Id, readValue } from '../common/values.js';
import type { Who } from '../common/who.js';
import { type NextWords, nextWords } from './suggest-message.js';

const Value = z.object({ tasting: Id, ratio: z.array(z.number().int().nonnegative()).min(1).max(24) });

/** What the likings so far suggest pouring next, for the host at an open table; null when there is nothing to say. */
export async function suggestPour(deps: Deps, who: Who, setting: TableSetting): Promise<NextWords | null> {
  const result = await loadResult(deps.db, who.workspace, setting);
  return nextWords(setting, nextAtTable(setting, result), false);
}

/** The booking form for the suggested ratio, with the blend, people and brief of the table that suggests it. */
export async function bookSuggested(deps: Deps, tap: Tap): Promise<Answer> {
  const { tasting: id, ratio } = readValue(Value, tap.value);
  const { tasting, recipe } = await requireTableAt(deps.db, tap.who, tap.channel, id);
  return openBookForm(
    deps,
    { who: tap.who, channel: tasting.channel },
    {
      recipe: recipe.name,
      at: null,
      whenNote: null,
      ratios: [formatRatio(ratio)],
      people: tasting.invited,
      blind: tasting.blind,
      format: tasting.format,
      tables: tasting.tables,
      brief: tasting.brief,
    },
  );
}
