import type { Answer, Deps, Feature, SubmitAnswer } from '../../../src/commands/common/bot.js';
import { checkMessage } from '../../../src/local/block-kit/check-message.js';
import { checkView } from '../../../src/local/block-kit/check-view.js';

const WORKSPACE = 'T1';

type Values = Readonly<Record<string, string | readonly string[] | null>>;

/** Uses a feature as the Slack layer does, and holds every answer against Slack's limits. */
export function playFeature(feature: Feature, deps: Deps, person = 'U0INES') {
  const who = { workspace: WORKSPACE, person };
  return {
    /** What comes of `/spoon verb words`. */
    async type(words: string, by: 'slash' | 'mention' = 'slash'): Promise<Answer> {
      if (!feature.verb) throw new Error('this feature has no verb');
      return checked(await feature.verb.run(deps, { who, channel: 'C1', threadTs: null, words, by }));
    },
    /** Taps the button with this label in an answer's message or form. */
    async tap(answer: Answer, label: string, values: Values = {}): Promise<Answer> {
      const shown = [...(answer.message?.blocks ?? []), ...formOf(answer).blocks];
      const found = elementsIn(shown).find((element) => textOf(element) === label);
      if (!found) throw new Error(`no “${label}” among: ${elementsIn(shown).map(textOf).join(', ')}`);
      return this.act(String(found['action_id']), String(found['value']), answer, values);
    },
    /** Chooses in a menu by its label. */
    async pick(answer: Answer, label: string): Promise<Answer> {
      for (const element of elementsIn(answer.message?.blocks ?? [])) {
        const options: unknown = element['options'];
        if (!Array.isArray(options)) continue;
        const option = options.map(asRecord).find((choice) => textOf(choice) === label);
        if (option) return this.act(String(element['action_id']), String(option['value']), answer);
      }
      throw new Error(`no choice “${label}”`);
    },
    async act(action: string, value: string, answer: Answer = {}, values: Values = {}): Promise<Answer> {
      const door = feature.taps[action.split('#')[0] ?? ''];
      if (!door) throw new Error(`no tap handler for ${action}`);
      const form = answer.form ?? answer.replaceForm ?? null;
      const tap = { who, action, value, selected: [], channel: 'C1', messageTs: '1.0', threadTs: null };
      return checked(await door.run(deps, { ...tap, form: form ? stateOf(form, values) : null }));
    },
    /** Submits the form of an answer with what it already holds and these values on top. */
    async submit(answer: Answer, values: Values): Promise<SubmitAnswer> {
      const form = formOf(answer);
      const door = feature.forms[form.callback_id ?? ''];
      if (!door) throw new Error(`no form handler for ${form.callback_id}`);
      return checked(await door.run(deps, { who, form: stateOf(form, values) }));
    },
  };
}

/** Everything a message says, for reading in a test. */
export function textsOf(answer: Answer): string {
  const texts: string[] = [];
  const walk = (value: unknown): void => {
    if (Array.isArray(value)) for (const one of value) walk(one);
    else if (typeof value === 'object' && value !== null) {
      for (const [key, one] of Object.entries(value)) {
        if (key === 'text' && typeof one === 'string') texts.push(one);
        else walk(one);
      }
    }
  };
  walk(answer.message?.blocks ?? []);
  return texts.join('\n');
}

function checked<T extends Answer>(answer: T): T {
  const problems = [
    ...(answer.message ? checkMessage(answer.message) : []),
    ...[answer.form, answer.replaceForm, answer.pushForm].flatMap((form) => (form ? checkView(form) : [])),
  ];
  if (problems.length > 0) throw new Error(`Slack would refuse: ${JSON.stringify(problems)}`);
  return answer;
}

function formOf(answer: Answer) {
  const form = answer.form ?? answer.replaceForm ?? answer.pushForm;
  return form ?? { blocks: [], callback_id: '', private_metadata: '{}' };
}

function stateOf(form: ReturnType<typeof formOf>, values: Values) {
  const held = form.blocks.map(asRecord).flatMap((block): [string, string | readonly string[] | null][] => {
    if (block['type'] !== 'input') return [];
    return [[String(block['block_id']), initialOf(asRecord(block['element']))]];
  });
  return {
    id: 'V1',
    callback: form.callback_id ?? '',
    privateMetadata: form.private_metadata ?? '{}',
    values: new Map([...held, ...Object.entries(values)]),
  };
}

function initialOf(element: Readonly<Record<string, unknown>>): string | readonly string[] | null {
  const option = element['initial_option'];
  if (option !== undefined) return String(asRecord(option)['value']);
  const options: unknown = element['initial_options'] ?? element['initial_users'];
  if (Array.isArray(options)) {
    return options.map((one) => (typeof one === 'string' ? one : String(asRecord(one)['value'])));
  }
  const plain =
    element['initial_value'] ??
    element['initial_date'] ??
    element['initial_user'] ??
    element['initial_channel'] ??
    element['initial_conversation'] ??
    element['initial_time'];
  return typeof plain === 'string' ? plain : null;
}

function elementsIn(blocks: readonly unknown[]): readonly Readonly<Record<string, unknown>>[] {
  return blocks.map(asRecord).flatMap((block) => {
    const elements: unknown = block['elements'];
    const accessory = block['accessory'] === undefined ? [] : [asRecord(block['accessory'])];
    return [...(Array.isArray(elements) ? elements.map(asRecord) : []), ...accessory];
  });
}

function textOf(element: Readonly<Record<string, unknown>>): string {
  return String(asRecord(element['text'])['text'] ?? '');
}

function asRecord(value: unknown): Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null ? Object.fromEntries(Object.entries(value)) : {};
}
