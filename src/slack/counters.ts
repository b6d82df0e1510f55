import { Counter, Gauge, Registry } from 'prom-client';

/** What can be counted from outside; one registry per running bot, so that tests do not share any. */
export type Counters = ReturnType<typeof createCounters>;

export function createCounters() {
  const registry = new Registry();
  const registers = [registry];
  const counter = (name: string, help: string, labelNames: string[] = []) =>
    new Counter({ name: `tallyspoon_${name}`, help, labelNames, registers });
  const gauge = (name: string, help: string) => new Gauge({ name: `tallyspoon_${name}`, help, registers });
  return {
    registry,
    received: counter('received_total', 'What came in from Slack, by kind', ['kind']),
    handled: counter('events_handled_total', 'Stored events that were handled'),
    failed: counter('faults_total', 'Faults of the bot, by where they happened', ['where']),
    setAside: counter(
      'events_set_aside_total',
      'Stored events given up after several tries; npm run doctor lists them',
    ),
    shown: counter('notices_shown_total', 'Posts and updates that agree with what should stand, by kind', [
      'kind',
    ]),
    refusedCalls: counter('web_api_failures_total', 'Web API calls that failed, by outcome', ['outcome']),
    stopped: counter('notices_stopped_total', 'Notices given up because Slack will not take them'),
    reminders: counter('reminders_total', 'Reminders whose time came'),
    waiting: gauge('events_waiting', 'Stored events still to be handled'),
    differing: gauge('notices_differing', 'Notices that do not stand yet as they should'),
  };
}
