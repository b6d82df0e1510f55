import { expect, test } from 'vitest';
import { digestMessage } from '../../../src/commands/deciding/digest-message.js';
import { numbersPage } from '../../../src/commands/tallying/panel-messages.js';
import { tallyMessage } from '../../../src/commands/tallying/tally-messages.js';
import { SHIPPED_VOCABULARY } from '../../../src/domain/notes/vocabulary.js';
import { attributeAgreement } from '../../../src/domain/panel/agreement.js';
import { tableResult } from '../../../src/domain/result/table-result.js';
import { latestWords } from '../../../src/domain/tally/counted.js';
import { checkMessage } from '../../../src/local/block-kit/check-message.js';
import { checkView } from '../../../src/local/block-kit/check-view.js';
import { largeNotes, largeView } from './large-table.js';

const view = largeView();
const result = tableResult({
  setting: view,
  notes: largeNotes(200),
  house: view.house,
  vocabulary: SHIPPED_VOCABULARY,
  hostChoice: null,
});

test('twelve cups and two hundred tasters fit into a digest, a tally and the page of numbers', () => {
  const digest = digestMessage({ view, result, production: null, against: null, remarks: null });
  expect(checkMessage(digest)).toEqual([]);
  expect(checkMessage(digest, 'update')).toEqual([]);
  expect(checkMessage(tallyMessage(view, result), 'update')).toEqual([]);
  const cups = view.cups.map(({ id }) => String(id));
  const agreement = attributeAgreement(latestWords(result.counted), cups);
  expect(checkView(numbersPage(view, result, agreement))).toEqual([]);
});

test('of many ratios the verdict names only the closest rivals, so that it stays one sentence', () => {
  // E is liked three points more than the others by draws that are otherwise alike: it stands first.
  const { text } = digestMessage({ view, result, production: null, against: null, remarks: null });
  expect(text).toMatch(
    /E \(2:1:1\)[^:]*: \d+ of 200 put it over [DF-L] \(\d+ level\), \d+ of 200 over [DF-L] \(\d+ level\), its closest rivals\./,
  );
});
