/**
 * Slack's published limits, in one place. Lengths are UTF-16 units of the escaped text, as sent: never
 * fewer than the code points Slack may count, so what passes here passes there.
 */
export const limits = {
  messageBlocks: 50,
  viewBlocks: 100,
  viewBytes: 250 * 1024,
  viewStack: 3,
  viewTitle: 24,
  privateMetadata: 3_000,
  id: 255,
  postText: 40_000,
  updateText: 4_000,
  /** From memory: Slack documents the error but not the number; ours is meant to be on the low side. */
  blocksText: 13_000,
  /** From memory, as above. */
  metadataBytes: 16_000,
  text: 3_000,
  sectionFields: 10,
  sectionField: 2_000,
  header: 150,
  contextElements: 10,
  actionsElements: 25,
  altText: 2_000,
  url: 3_000,
  inputLabel: 2_000,
  tableRows: 100,
  tableCells: 20,
  tableText: 10_000,
  buttonText: 75,
  buttonValue: 2_000,
  optionText: 75,
  selectOptions: 100,
  placeholder: 150,
  choiceOptions: 10,
  confirmTitle: 100,
  confirmText: 300,
  confirmButton: 30,
  inputText: 3_000,
} as const;
