import type { HouseFacts } from '../../domain/house/house-facts.js';
import type { TableSetting } from '../../domain/record/table-setting.js';

/** What the messages about one table are made from: state, and nothing but state. */
export type TableView = TableSetting & {
  readonly house: HouseFacts;
  readonly readiness: readonly { readonly name: string; readonly there: boolean; readonly said: string }[];
  /** People who were asked for a roast that is still to come. */
  readonly asked: readonly string[];
  readonly counts: { readonly notes: number; readonly tasters: number };
  /** Notes written, changed or taken back after closing. */
  readonly afterClosing: number;
  /** Keys of the reminders whose time has come. */
  readonly fired: readonly string[];
  /** Why messages of this table cannot be shown: `null` when all stand and nothing had to be said. */
  readonly stopped: { readonly errors: readonly string[] } | null;
  /** Who cancelled, when it is cancelled. */
  readonly cancelledBy: string | null;
};

/** Before closing, a blind table's contents are the host's alone. */
export function isHidden(view: Pick<TableSetting, 'tasting'>): boolean {
  const { blind, state } = view.tasting;
  return blind && (state === 'booked' || state === 'ready' || state === 'open');
}
