/** Why a cause does not stand higher. */
export const whyNot = {
  'cannot-be': '“{cause}” cannot be: {why}',
  stands: '“{cause}” is number {rank} with {chance}.',
  'none-against':
    'Nothing found speaks against it; it is simply rarer than what stands above it, or explains less.',
  against: '{n, plural, one {One thing speaks} other {# things speak}} against it.',
  'no-check': 'No single check not yet made would raise it much.',
  raise: '“{check}: {answer}” would raise it to {chance}.',
} as const;
