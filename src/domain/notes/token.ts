/**
 * The smallest pieces of a note. `text` is folded (lower case, no apostrophes); `start` and `end` are offsets
 * in the text as given; `joined` says that a hyphen ties the token to the one before.
 */
export type Token = {
  readonly kind: 'word' | 'number' | 'mark' | 'emoji' | 'break' | 'opaque';
  readonly text: string;
  readonly start: number;
  readonly end: number;
  readonly joined: boolean;
};
