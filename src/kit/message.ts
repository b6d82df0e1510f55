import type { KnownBlock } from '@slack/types';

/** One message as it is shown: `text` stands alone (notifications and screen readers get nothing else). */
export type Message = { readonly text: string; readonly blocks: readonly KnownBlock[] };
