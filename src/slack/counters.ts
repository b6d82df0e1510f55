import { Counter, Gauge, Registry } from 'prom-client';

/** What can be counted from outside; one registry per running bot, so that tests do not share any. */
export type Counters = ReturnType<typeof createCounters>;

export function createCounters() {
  const registry = new Registry();
  const registers = [registry];
  return {
    registry,
    received: new Counter({
      name: 'tallyspoon_received_total',
      help: 'What came in from Slack, by kind',
      labelNames: ['kind'],
      registers,
    }),
    handled: new Counter({
      name: 'tallyspoon_events_handled_total',
      help: 'Stored events that were handled',
      registers,
    }),
    failed: new Counter({
      name: 'tallyspoon_faults_total',
      help: 'Faults of the bot, by where they happened',
      labelNames: ['where'],
      registers,
    }),
    setAside: new Counter({
      name: 'tallyspoon_events_set_aside_total',
      help: 'Stored events given up after several tries; npm run doctor lists them',
      registers,
    }),
    shown: new Counter({
      name: 'tallyspoon_notices_shown_total',
      help: 'Posts and updates that agree with what should stand, by kind',
      labelNames: ['kind'],
      registers,
    }),
    refusedCalls: new Counter({
      name: 'tallyspoon_web_api_failures_total',
      help: 'Web API calls that failed, by outcome',
      labelNames: ['outcome'],
      registers,
    }),
    stopped: new Counter({
      name: 'tallyspoon_notices_stopped_total',
      help: 'Notices given up because Slack will not take them',
      registers,
    }),
    reminders: new Counter({
      name: 'tallyspoon_reminders_total',
      help: 'Reminders whose time came',
      registers,
    }),
    waiting: new Gauge({
      name: 'tallyspoon_events_waiting',
      help: 'Stored events still to be handled',
      registers,
    }),
    differing: new Gauge({
      name: 'tallyspoon_notices_differing',
      help: 'Notices that do not stand yet as they should',
      registers,
    }),
  };
}
