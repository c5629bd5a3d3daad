/** What a spectrogram shows. */
export const countFinding = {
  'groove-period': 'a peak at the groove length',
  'drafting-wave': 'a broad hump at medium waves',
  'metre-waves': 'peaks at some metres',
} as const;
