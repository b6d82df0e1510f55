import { tzOffset } from '@date-fns/tz';
import { z } from 'zod';
import type { Person } from '../api-types.js';
import type { Context } from '../context.js';
import { SlackError } from '../refusals.js';
import { findPerson } from '../state/people.js';
import { type Method, method, type Reply } from './method.js';

function wirePerson(ctx: Context, person: Person): Reply {
  const now = ctx.clock.now();
  const label = new Intl.DateTimeFormat('en-GB', { timeZone: person.tz, timeZoneName: 'long' })
    .formatToParts(now)
    .find((part) => part.type === 'timeZoneName');
  return {
    id: person.id,
    team_id: ctx.identity.teamId,
    name: person.name,
    real_name: person.realName,
    deleted: person.deleted,
    is_bot: person.isBot,
    is_app_user: false,
    // Slack leaves the zone out for people who have gone.
    ...(person.deleted
      ? {}
      : { tz: person.tz, tz_label: label?.value ?? person.tz, tz_offset: tzOffset(person.tz, now) * 60 }),
    profile: {
      display_name: person.name,
      display_name_normalized: person.name,
      real_name: person.realName,
      real_name_normalized: person.realName,
      team: ctx.identity.teamId,
      ...(person.isBot ? { bot_id: ctx.identity.botId, api_app_id: ctx.identity.appId } : {}),
    },
  };
}

const Info = z.looseObject({ user: z.string().min(1) });

/** People and their time zones. */
export const userMethods: readonly Method[] = [
  method('users.info', ['users:read'], Info, (ctx, args) => {
    const person = findPerson(ctx.db, args.user);
    if (person === undefined) throw new SlackError('user_not_found');
    return { user: wirePerson(ctx, person) };
  }),
];
