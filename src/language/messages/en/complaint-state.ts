/** States of a complaint. */
export const complaintState = {
  open: 'Open',
  contained: 'Contained',
  traced: 'Root cause found',
  corrected: 'Corrected',
  verified: 'Verified',
  closed: 'Closed',
} as const;
