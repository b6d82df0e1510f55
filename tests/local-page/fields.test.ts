import { describe, expect, it } from 'vitest';
import { asList, asText, initialOf, keptValue } from '../../src/local/page/fields.js';
import { readRoute, writeRoute } from '../../src/local/page/route.js';

const option = (value: string) => ({
  text: { type: 'plain_text' as const, text: value.toUpperCase() },
  value,
});

describe('what a field holds', () => {
  it('begins with what the bot put there', () => {
    const options = [option('a'), option('b')];
    expect(initialOf({ type: 'static_select', action_id: 'x', options, initial_option: option('b') })).toBe(
      'b',
    );
    expect(initialOf({ type: 'checkboxes', action_id: 'x', options, initial_options: options })).toEqual([
      'a',
      'b',
    ]);
    expect(initialOf({ type: 'multi_users_select', action_id: 'x', initial_users: ['U1'] })).toEqual(['U1']);
    expect(initialOf({ type: 'datepicker', action_id: 'x', initial_date: '2026-11-27' })).toBe('2026-11-27');
    expect(initialOf({ type: 'datetimepicker', action_id: 'x', initial_date_time: 1795788000 })).toBe(
      '1795788000',
    );
    expect(initialOf({ type: 'plain_text_input', action_id: 'x' })).toBe(null);
  });

  // The shapes of view.state.values, one per kind of element (Slack's reference, "View interaction payloads").
  it('reads what the workspace keeps of it', () => {
    expect(keptValue({ type: 'plain_text_input', value: '2:1:1' })).toBe('2:1:1');
    expect(keptValue({ type: 'plain_text_input', value: null })).toBe(null);
    expect(keptValue({ type: 'static_select', selected_option: option('b') })).toBe('b');
    expect(keptValue({ type: 'checkboxes', selected_options: [option('a'), option('b')] })).toEqual([
      'a',
      'b',
    ]);
    expect(keptValue({ type: 'multi_users_select', selected_users: ['U1', 'U2'] })).toEqual(['U1', 'U2']);
    expect(keptValue({ type: 'datetimepicker', selected_date_time: 1795788000 })).toBe('1795788000');
    expect(keptValue({ type: 'datepicker', selected_date: null })).toBe(null);
    expect(keptValue(undefined)).toBe(undefined);
  });

  it('shows one value as text and several as a list', () => {
    expect(asText(null)).toBe('');
    expect(asList('U1')).toEqual(['U1']);
    expect(asList(null)).toEqual([]);
  });
});

describe('the page’s address', () => {
  it('keeps person, place and thread', () => {
    const route = { handle: 'noor', place: 'C01', thread: '1795788000.000100' };
    expect(readRoute(writeRoute(route))).toEqual(route);
    expect(writeRoute({ handle: 'noor' })).toBe('#/noor');
    expect(readRoute('')).toEqual({ handle: null, place: null, thread: null });
  });

  it('survives an address somebody mangled', () => {
    expect(readRoute('#/%E0%A4%A/C01')).toEqual({ handle: null, place: 'C01', thread: null });
  });
});
