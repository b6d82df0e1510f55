import { type Tasting, tastingName } from '../../domain/record/tasting.js';
import { say } from '../../kit/blocks.js';
import type { Notice } from '../../kit/notice.js';

/** The host hears how many notes of a closed table were erased at their writer's wish: never whose, never what. */
export function erasedNotices(
  tasting: Pick<Tasting, 'id' | 'number' | 'host' | 'state'>,
  erased: number,
): readonly Notice[] {
  if (erased === 0) return [];
  const what = erased === 1 ? 'One note was' : `${erased} notes were`;
  const digest = tasting.state === 'decided' ? ' The digest is made anew from what remains.' : '';
  return [
    {
      kind: 'message',
      key: `erased:${tasting.id}`,
      place: { kind: 'direct', person: tasting.host },
      message: say(
        `${what} erased from *${tastingName(tasting)}* at their writer’s wish. Its counts and its verdict are worked out anew without them.${digest}`,
      ),
    },
  ];
}
