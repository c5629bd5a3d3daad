/** Qualities that an end use limits. */
export const limited = {
  hairiness: 'hairiness',
  softness: 'softness',
  fly: 'fly',
  tenacity: 'tenacity',
  output: 'output',
} as const;
