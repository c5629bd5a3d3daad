export const countAssumed = {
  'same-unknown':
    'Alle Spinnstellen liefen gleich viele Stunden; wie viele, ist nicht bekannt: Raten lassen sich nicht zeigen.',
  'same-stated': 'Jede Spinnstelle lief {hours} Stunden, wie angegeben.',
  'log-years': '{n} Jahre',
  'log-allowed': 'ein Protokoll über höchstens 20 Jahre; nach einem vertippten Datum suchen',
  'log-numbered':
    'Das Protokoll nennt keine Spinnstellen ohne Fadenbruch: angenommen sind die Spinnstellen 1 bis {last} an jeder Maschine. Geben Sie die Zahl der Spinnstellen an, wenn es eine andere ist.',
  'log-named':
    'Das Protokoll nennt keine Spinnstellen ohne Fadenbruch: verglichen werden nur die mit einem. Geben Sie die Zahl der Spinnstellen je Maschine an.',
  'log-ran':
    'Die Maschinen liefen{part, select, yes { {share} % der Zeit} other {}} vom ersten bis zum letzten Fadenbruch des Protokolls ({hours} Stunden){part, select, yes {} other {, ohne Stillstand}}.',
  standstill:
    'Lange Strecken ohne einen Fadenbruch an einer Maschine ({hours} Maschinenstunden) gelten als Stillstand.',
  'no-positions':
    'Die Zahl der Spinnstellen je Maschine ist nicht angegeben: Raten werden nur gegeneinander gezeigt.',
  'periods-unknown':
    'Alle Abschnitte liefen gleich viele Stunden; wie viele, ist nicht bekannt: Raten lassen sich nicht zeigen.',
  unlisted: 'nicht genannt {n}',
} as const;
