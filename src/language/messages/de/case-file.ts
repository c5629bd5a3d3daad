export const caseFile = {
  'no-symptom': 'kein Anzeichen ist angegeben, also gibt es nichts zu erklären',
} as const;
