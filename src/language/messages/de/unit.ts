export const unit = {
  days: '{n} Tage',
} as const;
