import type { AttributeTree } from '../../../src/domain/tally/counted.js';

const ABOVE = new Map<string, readonly string[]>([
  ['lemon', ['citrus', 'fruity']],
  ['orange', ['citrus', 'fruity']],
  ['citrus', ['fruity']],
  ['blueberry', ['berry', 'fruity']],
  ['dark chocolate', ['chocolate', 'cocoa']],
  ['milk chocolate', ['chocolate', 'cocoa']],
  ['chocolate', ['cocoa']],
]);

/** A handful of the trade's words, enough to roll up. Words it does not know are families of their own. */
export const SMALL_TREE: AttributeTree = {
  familyOf: (attribute) => ABOVE.get(attribute)?.at(-1) ?? attribute,
  ancestorsOf: (attribute) => ABOVE.get(attribute) ?? [],
};
