import type { Generated } from 'kysely';
import type { AskState } from '../domain/record/ask.js';
import type { Coffee } from '../domain/record/coffee.js';
import type { Note, NotedMention } from '../domain/record/note.js';
import type { Cup, Tasting } from '../domain/record/tasting.js';

/*
 * One type per table. Instants are UTC ISO text with milliseconds, so that text order is time order;
 * days are 'YYYY-MM-DD' in the house's time zone; weights whole milligrams; money whole cents; losses
 * hundredths of a percent; yes/no is 1/0. A column of certain words only is held to them by a check of the
 * schema; `*_json` columns are checked by zod when they are read.
 */

type Text<Columns extends string> = Record<Columns, string>;
type TextOrNull<Columns extends string> = Record<Columns, string | null>;
type Numbers<Columns extends string> = Record<Columns, number>;
type NumberOrNull<Columns extends string> = Record<Columns, number | null>;

type Keyed = { readonly id: Generated<number>; workspace: string };
type Made = Text<'created_at' | 'created_by'>;

export type Tables = {
  house: Text<'workspace' | 'facts_json' | 'updated_at' | 'updated_by'>;
  coffee: Keyed &
    Made &
    Pick<Coffee, 'name' | 'role' | 'level'> &
    Numbers<'sold_alone'> &
    NumberOrNull<'loss_bp' | 'green_price_cents' | 'green_mg'> &
    NumberOrNull<'moisture_bp' | 'density_g_per_l' | 'screen' | 'colour'> &
    TextOrNull<'origin' | 'process' | 'flavour_added' | 'remarks' | 'archived_at'>;
  lot: Keyed &
    Made &
    Numbers<'coffee_id' | 'mg'> &
    NumberOrNull<'roast_id'> &
    Text<'roasted_on'> &
    TextOrNull<'best_by' | 'emptied_at'>;
  reservation: Keyed & Numbers<'tasting_id' | 'lot_id' | 'mg'> & Text<'created_at'>;
  roast: Keyed &
    Made &
    Numbers<'coffee_id' | 'green_mg' | 'roasted_mg'> &
    NumberOrNull<'recipe_id' | 'colour'> &
    Text<'roasted_on'> &
    TextOrNull<'roast_group' | 'level' | 'remarks' | 'drum' | 'struck_at'> & {
      confirmed: Generated<number>;
      taken_json: Generated<string>;
    };
  recipe: Keyed & Made & Text<'name'> & TextOrNull<'archived_at'>;
  recipe_version: Keyed & Made & Numbers<'recipe_id' | 'version'> & Text<'why'> & NumberOrNull<'tasting_id'>;
  /** Coffees with the same `roast_group` are joined green; null is joined roasted. */
  recipe_part: Numbers<'version_id' | 'position' | 'coffee_id' | 'parts'> & TextOrNull<'roast_group'>;
  roast_group: Numbers<'version_id'> & Text<'name'> & NumberOrNull<'loss_bp'>;
  tasting: Keyed &
    Made &
    Pick<Tasting, 'state' | 'format'> &
    Numbers<'number' | 'recipe_version_id' | 'blind' | 'tables' | 'seed'> &
    NumberOrNull<'batch_mg' | 'winner_cup_id'> &
    Text<'channel' | 'host' | 'starts_at'> &
    TextOrNull<'brief' | 'opened_at' | 'closed_at' | 'decided_at' | 'decided_rule' | 'signed_off_by'> & {
      tally_shown: Generated<number>;
    };
  tasting_change: Keyed & Numbers<'tasting_id'> & Text<'at' | 'who' | 'change' | 'detail_json'>;
  /** `parts_json` is `[{"coffee": id, "parts": n}]`, for a blend, ratio or pour. */
  cup: Keyed &
    Made &
    Pick<Cup, 'kind'> &
    Numbers<'tasting_id' | 'position' | 'scooped'> &
    NumberOrNull<'coffee_id'> &
    Text<'label'> &
    TextOrNull<'code' | 'parts_json' | 'dropped_at'>;
  invited: Numbers<'tasting_id'> & Text<'person'>;
  ask: Keyed &
    Made &
    Numbers<'coffee_id' | 'roasted_mg' | 'green_mg' | 'loss_bp' | 'over_mg' | 'favour'> &
    NumberOrNull<'roast_id'> &
    Text<'roaster' | 'roast_day' | 'reason'> &
    TextOrNull<'drum' | 'offered_day'> & { state: AskState };
  ask_for: Numbers<'ask_id' | 'tasting_id' | 'mg'>;
  ask_change: Keyed &
    Numbers<'ask_id'> &
    Text<'at' | 'who' | 'to_state' | 'detail_json'> &
    TextOrNull<'from_state'>;
  /** `chosen_cup_id` is the cup that the taster named when asked which one was meant. */
  note: Keyed &
    Pick<Note, 'source'> &
    Numbers<'tasting_id' | 'late'> &
    NumberOrNull<'home_cup_id' | 'chosen_cup_id'> &
    Text<'channel' | 'ts' | 'person' | 'text' | 'received_at'> &
    TextOrNull<'thread_ts' | 'edited_ts' | 'deleted_at'>;
  reading: Numbers<'note_id' | 'needs_cup'> &
    Text<'liking_json' | 'worst_json' | 'unplaced_json'> &
    TextOrNull<'order_json'>;
  mention: Pick<NotedMention, 'polarity' | 'degree'> &
    Numbers<'note_id' | 'seq' | 'doubt' | 'span_start' | 'span_end'> &
    NumberOrNull<'cup_id' | 'intensity'> &
    Text<'attribute'>;
  /** Without an `attribute` the mention is dropped. */
  correction: Keyed &
    Numbers<'note_id' | 'span_start' | 'span_end'> &
    TextOrNull<'attribute'> &
    Text<'by' | 'at'>;
  /** What a word means in one house. */
  house_word: Text<'workspace' | 'words' | 'attribute' | 'by' | 'at'>;
  /** Deletes, also those that came before their message, so that the message never counts. */
  gone_message: Text<'workspace' | 'channel' | 'ts' | 'at'>;
  /** Rows with the same `lane` are handled one after another, in order. */
  inbox: Keyed &
    Text<'event_id' | 'kind' | 'lane' | 'body_json' | 'received_at' | 'state'> &
    Numbers<'attempts'> &
    TextOrNull<'next_try_at' | 'error'>;
  /**
   * Notices of one `lane` are shown one after another, in order. `shown_json` is what cannot be read off the wanted
   * notice once it has changed: the reaction that stands, the file that was uploaded.
   */
  notice: Keyed &
    Text<'key' | 'subject' | 'kind' | 'lane' | 'place_json' | 'state'> &
    Numbers<'attempts'> &
    TextOrNull<'wanted_json' | 'wanted_hash' | 'shown_hash' | 'shown_json'> &
    TextOrNull<'channel' | 'ts' | 'posting_since' | 'next_try_at' | 'error'>;
  /** The digest as it was posted: what people read is not rewritten behind their backs. */
  digest: Numbers<'tasting_id'> & Text<'workspace' | 'message_json' | 'posted_at' | 'posted_by'>;
  changed: Text<'workspace' | 'subject' | 'at'>;
  reminder: Text<'workspace' | 'key' | 'subject' | 'kind' | 'due_at' | 'detail_json'> &
    TextOrNull<'fired_at' | 'cancelled_at'>;
  picture: Text<'workspace' | 'hash' | 'file_id' | 'created_at'>;
};
