/** What stands around every page. */
export const shell = {
  skip: 'Skip to the content',
  'signed-in': 'Signed in as',
  main: 'Main',
  bench: 'Bench',
  setup: 'Setup',
  journal: 'Journal',
  knowledge: 'Knowledge',
  training: 'Training',
  counts: 'Breaks',
  convert: 'Convert',
  files: 'Files',
  first:
    'The manual of the machine, the rules of the site and qualified staff come first. Figures that rest on judgement say so beside the number.',
  version: 'Knowledge version',
  since: 'in use since {when}.',
  newer: 'Newer files cannot be used: see above.',
  language: 'Language',
  unreviewed: '',
} as const;
