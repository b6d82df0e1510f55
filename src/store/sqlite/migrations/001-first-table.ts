/*
 * The schema is plain SQL: checks, strict tables and partial indexes read better here than through a
 * builder, and a migration never changes once it has run somewhere.
 */
export const FIRST_TABLE = [
  `create table house (
    workspace text primary key, facts_json text not null, updated_at text not null, updated_by text not null
  ) strict`,
  `create table coffee (
    id integer primary key, workspace text not null, name text not null check (length(name) between 1 and 80),
    origin text, process text, role text not null check (role in ('base','sweetness','highlight')),
    level text not null check (level in ('light','medium','dark')),
    sold_alone integer not null check (sold_alone in (0,1)),
    loss_bp integer check (loss_bp between 0 and 5000), green_price_cents integer check (green_price_cents >= 0),
    green_mg integer check (green_mg >= 0), moisture_bp integer check (moisture_bp between 0 and 3000),
    density_g_per_l integer check (density_g_per_l > 0), screen real, colour real,
    flavour_added text, remarks text, archived_at text, created_at text not null, created_by text not null
  ) strict`,
  `create unique index coffee_name on coffee (workspace, name collate nocase) where archived_at is null`,
  `create table recipe (
    id integer primary key, workspace text not null, name text not null check (length(name) between 1 and 80),
    archived_at text, created_at text not null, created_by text not null
  ) strict`,
  `create unique index recipe_name on recipe (workspace, name collate nocase) where archived_at is null`,
  `create table recipe_version (
    id integer primary key, workspace text not null, recipe_id integer not null references recipe (id),
    version integer not null check (version >= 1), why text not null, tasting_id integer,
    created_at text not null, created_by text not null, unique (recipe_id, version)
  ) strict`,
  `create table recipe_part (
    version_id integer not null references recipe_version (id) on delete cascade, position integer not null,
    coffee_id integer not null references coffee (id), parts integer not null check (parts > 0),
    roast_group text, primary key (version_id, position), unique (version_id, coffee_id)
  ) strict`,
  `create table roast_group (
    version_id integer not null references recipe_version (id) on delete cascade, name text not null,
    loss_bp integer check (loss_bp between 0 and 5000), primary key (version_id, name)
  ) strict`,
  `create table roast (
    id integer primary key, workspace text not null, coffee_id integer not null references coffee (id),
    recipe_id integer references recipe (id), roast_group text,
    green_mg integer not null check (green_mg > 0),
    roasted_mg integer not null check (roasted_mg > 0 and roasted_mg <= green_mg),
    roasted_on text not null, level text, colour real, remarks text,
    created_at text not null, created_by text not null
  ) strict`,
  `create index roast_coffee on roast (coffee_id, roasted_on)`,
  `create table lot (
    id integer primary key, workspace text not null, coffee_id integer not null references coffee (id),
    roast_id integer references roast (id), mg integer not null check (mg >= 0), roasted_on text not null,
    best_by text, emptied_at text, created_at text not null, created_by text not null
  ) strict`,
  `create index lot_coffee on lot (coffee_id) where emptied_at is null`,
  `create table tasting (
    id integer primary key, workspace text not null, number integer not null,
    recipe_version_id integer not null references recipe_version (id), channel text not null, host text not null,
    starts_at text not null,
    state text not null check (state in ('booked','ready','open','closed','decided','cancelled')),
    blind integer not null check (blind in (0,1)), format text not null check (format in ('cupping','brewed')),
    tables integer not null check (tables >= 1), seed integer not null, brief text,
    batch_mg integer check (batch_mg > 0), opened_at text, closed_at text, decided_at text,
    winner_cup_id integer, decided_rule text, signed_off_by text,
    tally_shown integer not null default 0 check (tally_shown in (0,1)),
    created_at text not null, created_by text not null, unique (workspace, number)
  ) strict`,
  `create index tasting_state on tasting (workspace, state, starts_at)`,
  `create table tasting_change (
    id integer primary key, workspace text not null, tasting_id integer not null references tasting (id),
    at text not null, who text not null, change text not null, detail_json text not null
  ) strict`,
  `create index tasting_change_of on tasting_change (tasting_id, id)`,
  `create table cup (
    id integer primary key, workspace text not null, tasting_id integer not null references tasting (id),
    position integer not null, label text not null, code text,
    kind text not null check (kind in ('component','blend','ratio','pour')),
    coffee_id integer references coffee (id), parts_json text,
    scooped integer not null check (scooped in (0,1)), dropped_at text,
    created_at text not null, created_by text not null,
    unique (tasting_id, label), unique (tasting_id, code),
    check ((kind = 'component') = (coffee_id is not null)), check ((kind <> 'component') = (parts_json is not null))
  ) strict`,
  `create table invited (
    tasting_id integer not null references tasting (id), person text not null, primary key (tasting_id, person)
  ) strict`,
  `create table reservation (
    id integer primary key, workspace text not null, tasting_id integer not null references tasting (id),
    lot_id integer not null references lot (id), mg integer not null check (mg > 0), created_at text not null,
    unique (tasting_id, lot_id)
  ) strict`,
  `create index reservation_lot on reservation (lot_id)`,
  `create table ask (
    id integer primary key, workspace text not null, coffee_id integer not null references coffee (id),
    roaster text not null, roasted_mg integer not null check (roasted_mg > 0),
    green_mg integer not null check (green_mg >= roasted_mg), loss_bp integer not null, drum text,
    over_mg integer not null check (over_mg >= 0), roast_day text not null, offered_day text,
    state text not null check (state in ('asked','accepted','offered','declined','roasted','missed','withdrawn')),
    favour integer not null check (favour in (0,1)), reason text not null,
    roast_id integer references roast (id), created_at text not null, created_by text not null
  ) strict`,
  `create index ask_state on ask (workspace, state)`,
  `create table ask_for (
    ask_id integer not null references ask (id), tasting_id integer not null references tasting (id),
    mg integer not null check (mg > 0), primary key (ask_id, tasting_id)
  ) strict`,
  `create index ask_for_tasting on ask_for (tasting_id)`,
  `create table ask_change (
    id integer primary key, workspace text not null, ask_id integer not null references ask (id),
    at text not null, who text not null, from_state text, to_state text not null, detail_json text not null
  ) strict`,
  `create index ask_change_of on ask_change (ask_id, id)`,
  `create table note (
    id integer primary key, workspace text not null, tasting_id integer not null references tasting (id),
    source text not null check (source in ('thread','form','paper')), channel text not null, ts text not null,
    thread_ts text, person text not null, home_cup_id integer references cup (id), chosen_cup_id integer references cup (id),
    text text not null, edited_ts text, deleted_at text, late integer not null check (late in (0,1)),
    received_at text not null, unique (workspace, channel, ts)
  ) strict`,
  `create index note_tasting on note (tasting_id, person)`,
  `create table reading (
    note_id integer primary key references note (id) on delete cascade, order_json text, liking_json text not null,
    worst_json text not null, needs_cup integer not null check (needs_cup in (0,1)), unplaced_json text not null
  ) strict`,
  `create table mention (
    note_id integer not null references note (id) on delete cascade, seq integer not null,
    cup_id integer references cup (id), attribute text not null,
    polarity text not null check (polarity in ('present','denied','compared')),
    degree text not null check (degree in ('slight','plain','strong')),
    intensity real check (intensity between 0 and 15), doubt integer not null check (doubt in (0,1)),
    span_start integer not null, span_end integer not null, primary key (note_id, seq)
  ) strict, without rowid`,
  `create table correction (
    id integer primary key, workspace text not null, note_id integer not null references note (id) on delete cascade,
    span_start integer not null, span_end integer not null, attribute text, by text not null, at text not null,
    unique (note_id, span_start, span_end)
  ) strict`,
  `create table house_word (
    workspace text not null, words text not null, attribute text not null, by text not null, at text not null,
    primary key (workspace, words)
  ) strict`,
  `create table gone_message (
    workspace text not null, channel text not null, ts text not null, at text not null,
    primary key (workspace, channel, ts)
  ) strict, without rowid`,
  `create table inbox (
    id integer primary key autoincrement, workspace text not null, event_id text not null, kind text not null,
    lane text not null, body_json text not null, received_at text not null,
    state text not null check (state in ('waiting','done','set aside')),
    attempts integer not null, next_try_at text, error text, unique (workspace, event_id)
  ) strict`,
  `create index inbox_waiting on inbox (id) where state = 'waiting'`,
  `create table notice (
    id integer primary key, workspace text not null, key text not null, subject text not null,
    kind text not null check (kind in ('message','private','reaction','home','file')),
    place_json text not null, wanted_json text, wanted_hash text, shown_hash text, shown_json text,
    channel text, ts text,
    state text not null check (state in ('kept','posting','stopped')), posting_since text,
    attempts integer not null, next_try_at text, error text, unique (workspace, key)
  ) strict`,
  `create index notice_differs on notice (id) where wanted_hash is not shown_hash and state <> 'stopped'`,
  `create index notice_stopped on notice (workspace, channel) where state = 'stopped'`,
  `create index notice_subject on notice (workspace, subject)`,
  `create index notice_place on notice (workspace, channel, ts) where kind = 'message'`,
  `create table digest (
    tasting_id integer primary key references tasting (id), workspace text not null, message_json text not null,
    posted_at text not null, posted_by text not null
  ) strict`,
  `create table changed (
    workspace text not null, subject text not null, at text not null, primary key (workspace, subject)
  ) strict, without rowid`,
  `create table reminder (
    workspace text not null, key text not null, subject text not null, kind text not null, due_at text not null,
    detail_json text not null, fired_at text, cancelled_at text, primary key (workspace, key)
  ) strict`,
  `create index reminder_subject on reminder (workspace, subject)`,
  `create index reminder_due on reminder (due_at) where fired_at is null and cancelled_at is null`,
  `create table picture (
    workspace text not null, hash text not null, file_id text not null, created_at text not null,
    primary key (workspace, hash)
  ) strict`,
];
