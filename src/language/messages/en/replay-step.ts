/** The steps of a diagnosis replayed. */
export const replayStep = {
  beginning: 'Before anything is known but the card',
  'beginning-words':
    'Every cause starts at the rate at which it is found on frames in trouble; what the model computes from the card has moved the settings already.',
  where: 'Where: {what}',
  began: 'Began: {what}',
  changed: 'Changed: {what}',
  seen: 'Seen: {sign}, {level}',
  measured: 'Measured: {what}',
  tried: 'Tried: {what}',
  found: 'Found: {check} – {answers}',
  speaks: 'It speaks most for “{cause}”: {before} → {after} (+{decibans} decibans)',
  falls: '“{cause}” falls from {before} to {after}',
  hardly: 'It hardly moves any cause: every likely cause would have shown it about as often.',
  'lead-changes': 'the lead changes',
} as const;

/** What was measured, as a step of a replay names it. */
export const replayMeasured = {
  'end-breaks': 'end breaks',
  tenacity: 'tenacity',
  'strength-cv': 'strength cv',
  elongation: 'elongation',
  cvm: 'cvm',
  thin: 'thin',
  thick: 'thick',
  neps: 'neps',
  hairiness: 'hairiness',
  count: 'count',
  twist: 'twist',
} as const;
