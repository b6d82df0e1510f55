/*
 * Every acknowledgement waits for a commit into the inbox, so the inbox writes as few pages as it can: its ids
 * come from the table itself (an event is only forgotten after later ones have come, so they stay in order),
 * and what waits for another try is found without reading what waits. A notice's lane is kept beside it, so
 * that the keeper need not read whole messages to see which may go.
 */
export const LANES = [
  `drop index inbox_waiting`,
  `alter table inbox rename to inbox_before`,
  `create table inbox (
    id integer primary key, workspace text not null, event_id text not null, kind text not null,
    lane text not null, body_json text not null, received_at text not null,
    state text not null check (state in ('waiting','done','set aside')),
    attempts integer not null, next_try_at text, error text, unique (workspace, event_id)
  ) strict`,
  `insert into inbox
    select id, workspace, event_id, kind, lane, body_json, received_at, state, attempts, next_try_at, error
    from inbox_before order by id`,
  `drop table inbox_before`,
  `create index inbox_waiting on inbox (id) where state = 'waiting'`,
  `create index inbox_held on inbox (next_try_at) where state = 'waiting' and next_try_at is not null`,
  `alter table notice add column lane text not null default ''`,
  `update notice set lane = coalesce(case kind
    when 'home' then 'home:' || (wanted_json ->> '$.person')
    when 'reaction' then 'reaction:' || (wanted_json ->> '$.channel') || ':' || (wanted_json ->> '$.ts')
    when 'private' then 'private:' || (wanted_json ->> '$.channel') || ':' || (wanted_json ->> '$.person')
    else case place_json ->> '$.kind'
      when 'channel' then 'channel:' || (place_json ->> '$.channel')
      when 'direct' then 'direct:' || (place_json ->> '$.person')
      else 'thread:' || (place_json ->> '$.under')
    end
  end, '')`,
];
