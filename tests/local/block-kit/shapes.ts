/** The smallest blocks and elements that Slack accepts, grown to a size where a test wants it. */
export const x = (length: number) => 'x'.repeat(length);
export const plain = (length: number) => ({ type: 'plain_text', text: x(length) });
export const mrkdwn = (length: number) => ({ type: 'mrkdwn', text: x(length) });
export const many = <T>(count: number, one: (index: number) => T): T[] =>
  Array.from({ length: count }, (_, index) => one(index));
export const option = (index: number, size = 5) => ({ text: plain(size), value: `v${index}` });
export const button = (fields: object = {}) => ({ type: 'button', text: plain(5), ...fields });
export const actions = (...elements: object[]) => ({ type: 'actions', elements });
export const input = (element: object, fields: object = {}) => ({
  type: 'input',
  label: plain(5),
  element,
  ...fields,
});
export const select = (fields: object) => actions({ type: 'static_select', ...fields });
export const picture = { type: 'image', alt_text: 'a', image_url: 'https://example.org/a.png' };
export const rich = (text: string) => ({
  type: 'rich_text',
  elements: [{ type: 'rich_text_section', elements: [{ type: 'text', text }] }],
});
export const cell = (length: number) => ({ type: 'raw_text', text: x(length) });
export const sections = (count: number, length: number) =>
  many(count, () => ({ type: 'section', text: plain(length) }));

export type Case = readonly [what: string, build: (size: number) => object, limit: number, pointer: string];
