import type { Generated } from 'kysely';

/*
 * One type per table. Instants are UTC ISO text with milliseconds, so that text order is time order;
 * days are 'YYYY-MM-DD' in the house's time zone; weights whole milligrams; money whole cents; losses
 * hundredths of a percent; yes/no is 1/0; `*_json` columns are checked by zod when they are read.
 */

type Keyed = { readonly id: Generated<number>; workspace: string };
type Made = { created_at: string; created_by: string };

type HouseTable = { workspace: string; facts_json: string; updated_at: string; updated_by: string };

export type CoffeeTable = Keyed &
  Made & {
    name: string;
    origin: string | null;
    process: string | null;
    role: string;
    level: string;
    sold_alone: number;
    loss_bp: number | null;
    green_price_cents: number | null;
    green_mg: number | null;
    moisture_bp: number | null;
    density_g_per_l: number | null;
    screen: number | null;
    colour: number | null;
    flavour_added: string | null;
    remarks: string | null;
    archived_at: string | null;
  };

export type LotTable = Keyed &
  Made & {
    coffee_id: number;
    roast_id: number | null;
    mg: number;
    roasted_on: string;
    best_by: string | null;
    emptied_at: string | null;
  };

type ReservationTable = Keyed & {
  tasting_id: number;
  lot_id: number;
  mg: number;
  created_at: string;
};

export type RoastTable = Keyed &
  Made & {
    coffee_id: number;
    recipe_id: number | null;
    roast_group: string | null;
    green_mg: number;
    roasted_mg: number;
    roasted_on: string;
    level: string | null;
    colour: number | null;
    remarks: string | null;
    drum: string | null;
    confirmed: Generated<number>;
    taken_json: Generated<string>;
    struck_at: string | null;
  };

export type RecipeTable = Keyed & Made & { name: string; archived_at: string | null };

export type RecipeVersionTable = Keyed &
  Made & { recipe_id: number; version: number; why: string; tasting_id: number | null };

type RecipePartTable = {
  version_id: number;
  position: number;
  coffee_id: number;
  parts: number;
  /** Coffees with the same group are joined green; null is joined roasted. */
  roast_group: string | null;
};

type RoastGroupTable = { version_id: number; name: string; loss_bp: number | null };

export type TastingTable = Keyed &
  Made & {
    number: number;
    recipe_version_id: number;
    channel: string;
    host: string;
    starts_at: string;
    state: string;
    blind: number;
    format: string;
    tables: number;
    seed: number;
    brief: string | null;
    batch_mg: number | null;
    opened_at: string | null;
    closed_at: string | null;
    decided_at: string | null;
    winner_cup_id: number | null;
    decided_rule: string | null;
    signed_off_by: string | null;
    tally_shown: Generated<number>;
  };

type TastingChangeTable = Keyed & {
  tasting_id: number;
  at: string;
  who: string;
  change: string;
  detail_json: string;
};

export type CupTable = Keyed &
  Made & {
    tasting_id: number;
    position: number;
    label: string;
    code: string | null;
    kind: string;
    coffee_id: number | null;
    /** [{"coffee": id, "parts": n}], for a blend, ratio or pour. */
    parts_json: string | null;
    scooped: number;
    dropped_at: string | null;
  };

type InvitedTable = { tasting_id: number; person: string };

export type AskTable = Keyed &
  Made & {
    coffee_id: number;
    roaster: string;
    roasted_mg: number;
    green_mg: number;
    loss_bp: number;
    drum: string | null;
    over_mg: number;
    roast_day: string;
    offered_day: string | null;
    state: string;
    favour: number;
    reason: string;
    roast_id: number | null;
  };

type AskForTable = { ask_id: number; tasting_id: number; mg: number };

type AskChangeTable = Keyed & {
  ask_id: number;
  at: string;
  who: string;
  from_state: string | null;
  to_state: string;
  detail_json: string;
};

export type NoteTable = Keyed & {
  tasting_id: number;
  /** 'thread', 'form' or 'paper'. */
  source: string;
  channel: string;
  ts: string;
  thread_ts: string | null;
  person: string;
  home_cup_id: number | null;
  /** The cup the taster named when asked which one was meant. */
  chosen_cup_id: number | null;
  text: string;
  edited_ts: string | null;
  deleted_at: string | null;
  late: number;
  received_at: string;
};

type ReadingTable = {
  note_id: number;
  order_json: string | null;
  liking_json: string;
  worst_json: string;
  needs_cup: number;
  unplaced_json: string;
};

type MentionTable = {
  note_id: number;
  seq: number;
  cup_id: number | null;
  attribute: string;
  polarity: string;
  degree: string;
  intensity: number | null;
  doubt: number;
  span_start: number;
  span_end: number;
};

type CorrectionTable = Keyed & {
  note_id: number;
  span_start: number;
  span_end: number;
  /** null drops the mention. */
  attribute: string | null;
  by: string;
  at: string;
};

type HouseWordTable = { workspace: string; words: string; attribute: string; by: string; at: string };

/** Deletes that came before their message, so that the message never counts. */
type GoneMessageTable = { workspace: string; channel: string; ts: string; at: string };

type InboxTable = {
  readonly id: Generated<number>;
  workspace: string;
  event_id: string;
  kind: string;
  /** Rows with the same lane are handled one after another, in order. */
  lane: string;
  body_json: string;
  received_at: string;
  state: string;
  attempts: number;
  next_try_at: string | null;
  error: string | null;
};

export type NoticeTable = {
  workspace: string;
  key: string;
  subject: string;
  kind: string;
  /** Notices of one lane are shown one after another, in order. */
  lane: string;
  place_json: string;
  wanted_json: string | null;
  wanted_hash: string | null;
  shown_hash: string | null;
  /** What cannot be read off the wanted notice once it has changed: the reaction that stands, the file that was uploaded. */
  shown_json: string | null;
  channel: string | null;
  ts: string | null;
  state: string;
  posting_since: string | null;
  attempts: number;
  next_try_at: string | null;
  error: string | null;
};

/** The digest as it was posted: what people read is not rewritten behind their backs. */
type DigestTable = {
  tasting_id: number;
  workspace: string;
  message_json: string;
  posted_at: string;
  posted_by: string;
};

type ChangedTable = { workspace: string; subject: string; at: string };

type ReminderTable = {
  workspace: string;
  key: string;
  subject: string;
  kind: string;
  due_at: string;
  detail_json: string;
  fired_at: string | null;
  cancelled_at: string | null;
};

type PictureTable = { workspace: string; hash: string; file_id: string; created_at: string };

export type Tables = {
  house: HouseTable;
  coffee: CoffeeTable;
  lot: LotTable;
  reservation: ReservationTable;
  roast: RoastTable;
  recipe: RecipeTable;
  recipe_version: RecipeVersionTable;
  recipe_part: RecipePartTable;
  roast_group: RoastGroupTable;
  tasting: TastingTable;
  tasting_change: TastingChangeTable;
  cup: CupTable;
  invited: InvitedTable;
  ask: AskTable;
  ask_for: AskForTable;
  ask_change: AskChangeTable;
  note: NoteTable;
  reading: ReadingTable;
  mention: MentionTable;
  correction: CorrectionTable;
  house_word: HouseWordTable;
  gone_message: GoneMessageTable;
  inbox: InboxTable;
  notice: NoticeTable;
  digest: DigestTable;
  changed: ChangedTable;
  reminder: ReminderTable;
  picture: PictureTable;
};
