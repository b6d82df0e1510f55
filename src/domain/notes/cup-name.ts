/**
 * The ways to name a cup of the table: its label (A, B, C…), its three-digit code when blind, the coffee or
 * ratio in it, and what it is on the table. "First cup" follows from its place in the list of cups.
 */
export type CupName = {
  readonly label: string;
  readonly code?: string;
  readonly name?: string;
  readonly kind?: 'component' | 'blend' | 'ratio' | 'pour';
};
