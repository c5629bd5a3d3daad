/** Templates of the journal's pages; the tests beside this file render every one of them. */
export const JOURNAL_TEMPLATES = [
  'journal',
  'journal-again',
  'journal-away',
  'journal-case',
  'journal-complaint',
  'journal-diagnosis',
  'journal-frame',
  'journal-frames',
  'journal-list',
  'journal-record',
  'journal-sheet',
  'learning',
  'parts',
  'quality',
];
