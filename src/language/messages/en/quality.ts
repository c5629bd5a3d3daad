/** Qualities whose change is computed. */
export const quality = {
  output: 'Output',
  tension: 'Draw-off tension, share of strength',
  tenacity: 'Tenacity',
  hairiness: 'Hairiness',
  hand: 'Softness of hand',
  fly: 'Fly',
} as const;
