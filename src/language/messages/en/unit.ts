/** Times in words. */
export const unit = {
  days: '{n} days',
} as const;
