/*
 * What a kill can be aimed at: a commit that makes a number grow. The bot dies within a fraction of a
 * millisecond of it, before it can do what follows.
 */

/** `file` is whose database is watched, `sql` yields the number. */
export type Aim = { readonly what: string; readonly file: 'bot' | 'slack'; readonly sql: string };

export const REMINDER_GIVEN: Aim = {
  what: 'a reminder is claimed',
  file: 'bot',
  sql: 'select count(*) from reminder where fired_at is not null',
};

export const AIMS: readonly [Aim, ...Aim[]] = [
  { what: 'an event is stored', file: 'bot', sql: 'select coalesce(max(id), 0) from inbox' },
  { what: 'a note is counted', file: 'bot', sql: 'select count(*) from note' },
  {
    what: 'a post is begun',
    file: 'bot',
    sql: "select count(*) from notice where state = 'posting'",
  },
  { what: 'a post is noted', file: 'bot', sql: 'select count(*) from notice where ts is not null' },
  {
    what: 'Slack has taken a post',
    file: 'slack',
    sql: 'select count(*) from message where metadata is not null',
  },
  {
    what: 'Slack has taken a post',
    file: 'slack',
    sql: 'select count(*) from message where metadata is not null',
  },
  { what: 'Slack has taken a reaction', file: 'slack', sql: 'select count(*) from reaction' },
];
