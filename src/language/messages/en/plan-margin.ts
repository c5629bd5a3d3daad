/** Chances that a margin holds. */
export const planMargin = {
  twist: 'Chance that the twist suffices',
  tension: 'Chance that the yarn bears its tension',
  fibres: 'Chance that there are fibres enough',
  heat: 'Chance that the fibre stays below sticking',
} as const;
