export const trial = {
  rate: '{rate} je 1000 Rotorstunden',
  counts:
    'Ohne die Änderung {a} Fadenbrüche in {aHours} Rotorstunden ({aRate}); mit ihr {b} in {bHours} ({bRate}).',
  range: 'Die wahre Rate mit der Änderung liegt zwischen {low} und {high} % der Rate ohne sie (95 %).',
  drop: 'Der Rückgang ist mehr als Zufall.',
  worse: 'Es wurde schlechter, und mehr als zufällig.',
  chance: 'Der Unterschied kann Zufall sein; mehr Stunden würden es zeigen.',
} as const;
