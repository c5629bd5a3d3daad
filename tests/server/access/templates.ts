/** Templates that the tests of the access pages render. */
export const ACCESS_TEMPLATES = [
  'account',
  'accounts',
  'audit',
  'kept-form',
  'own-account',
  'secret',
  'sign-in',
  'tokens',
] as const;
