/** What a side effect is on. */
export const effect = {
  stability: 'stability',
  tension: 'tension',
  tenacity: 'tenacity',
  hairiness: 'hairiness',
  fly: 'fly',
  hand: 'hand',
  output: 'output',
  wear: 'wear',
  waste: 'waste',
  evenness: 'evenness',
  package: 'package',
} as const;
