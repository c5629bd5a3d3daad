/** Opening a case file. */
export const openFile = {
  'not-yet': 'This case file cannot be opened yet',
  written: 'written:',
  heading: 'Open a case file',
  lead: 'A case file holds setup, signs and findings as text (YAML or JSON). The bench saves one under “Save as case file”; the command line reads the same.',
  file: 'File',
  'or-text': 'Or its text',
  put: 'Put it on the bench',
  line: 'line {n}',
} as const;
