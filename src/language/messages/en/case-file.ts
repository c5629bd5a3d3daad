/** What reading a case says. */
export const caseFile = {
  'no-symptom': 'no symptom is given, so there is nothing to explain',
} as const;
