export const countQuick = {
  rate: '{rate} Fadenbrüche je 1000 Rotorstunden; bei so vielen gezählten kann die wahre Zahl irgendwo zwischen {low} und {high} liegen.',
  'norm-luck': 'gälte die Norm noch, käme eine so weit entfernte Zählung {times} vor',
  above: 'Wirklich so: {times}; {luck}.',
  below: 'Besser als die Norm: {breaks}, wo sie {expected} erwartet; {luck}.',
  alike: 'Ein Unterschied zur Norm ist nicht gezeigt: {breaks}, wo sie {expected} erwartet; {luck}.',
  'enough-half': 'Es ist genug gezählt, um einen Anstieg um die Hälfte zu bemerken.',
  'to-half':
    'Um einen Anstieg um die Hälfte zu bemerken, zählen Sie insgesamt {hours} Rotorstunden, {n}-mal so viel wie bisher.',
  'no-difference-luck': 'gäbe es keinen Unterschied, kämen so verschiedene Zählungen {times} vor',
  neither: 'Beide haben noch keinen Fadenbruch: Es lässt sich nichts sagen.',
  'no-difference': 'Ein Unterschied ist nicht gezeigt; {luck}.',
  'real-breaks': 'Wirklich so: {id} bricht {times}; {luck}.',
  against:
    '{second} gegen {first}: Das wahre Verhältnis kann irgendwo zwischen {low} und {high} liegen{open, select, yes {} other {}}.',
  'see-range':
    'Dass kein Unterschied gezeigt ist, heißt nicht, dass es keinen gibt: Sehen Sie, wie weit der Bereich ist, und zählen Sie weiter, wenn er zu weit ist.',
  'one-stands': 'Wirklich so: {id} bricht {times}.',
  'none-stands': 'Nichts hebt sich ab: Die Unterschiede sind nicht größer, als der Zufall sie macht.',
  run: 'Lassen Sie {hours} Rotorstunden mit der Änderung laufen und ebenso viele ohne, nebeneinander.',
  'run-positions':
    'Auf {n} geänderten Spinnstellen und {n} daneben sind das {hours} Laufstunden, {days} Tage rund um die Uhr.',
  expect:
    'Zu erwarten sind etwa {without} Fadenbrüche ohne und {with} mit der Änderung; ein {rise, select, yes {Anstieg} other {Rückgang}} von {from} auf {to} wird dann in {of} von 100 solchen Versuchen bemerkt.',
  half: 'Mit der Hälfte dieser Stunden würde nur ein {rise, select, yes {Anstieg} other {Rückgang}} auf {to} ebenso sicher bemerkt.',
  'half-nothing':
    'Die Hälfte dieser Stunden würde nicht einmal das Ende aller Fadenbrüche ebenso sicher zeigen.',
  'not-in-turn':
    'Nicht eine Woche vorher und eine Woche nachher laufen lassen: Auch Partie, Klima und Leute ändern sich. Nur Laufstunden zählen, Stillstände und Partien aufschreiben.',
  'no-controls':
    'Ohne Spinnstellen daneben, die unverändert blieben, zählt eine neue Partie oder anderes Wetter als Wirkung der Änderung.',
  'the-controls': 'die unveränderten',
  'the-norm': 'die Norm',
  'no-outlook': 'wie lange es noch dauert, lässt sich noch nicht sagen',
  'no-outlook-sentence': 'Wie lange es noch dauert, lässt sich noch nicht sagen.',
  outlook:
    'etwa {hours} weitere Rotorstunden (beide Seiten zusammen) würden es entscheiden, wenn es so bleibt',
  'outlook-sentence':
    'Etwa {hours} weitere Rotorstunden (beide Seiten zusammen) würden es entscheiden, wenn es so bleibt.',
  'trial-better': 'Besser: Die geänderten Spinnstellen brechen weniger als {against}.',
  'trial-worse':
    'Schlechter: Die geänderten Spinnstellen brechen mehr als {against}. Nehmen Sie die Änderung zurück.',
  'trial-no-worse':
    'Nicht schlechter: Ein nennenswerter Anstieg ist ausgeschlossen; dass es besser ist, ist nicht gezeigt. {outlook}',
  'trial-no-effect':
    'Keine lohnende Wirkung: Ein Rückgang auf das {ratio}-fache oder tiefer ist ausgeschlossen.',
  'trial-unknown': 'Noch nicht bekannt: {outlook}.',
  'true-ratio':
    'Das wahre Verhältnis, geändert gegen {against}, liegt zwischen {low} und {high}, wie oft man auch nachsieht.',
  'small-better': 'Besser, aber um weniger, als sich lohnen würde.',
  'fewer-after':
    'Nachher weniger Fadenbrüche als vorher: {times}. Ob es die Änderung war, lässt sich nicht sagen.',
  'more-after':
    'Nachher mehr Fadenbrüche als vorher: {times}. Ob es die Änderung war, lässt sich nicht sagen.',
  'alike-after':
    'Ein Unterschied zwischen vorher und nachher ist nicht gezeigt. Ob es die Änderung war, lässt sich nicht sagen.',
  'not-same-time':
    'Vorher und nachher liefen nicht zur selben Zeit: Auch Partie, Wetter, Reinigung und Leute können sich geändert haben. Lassen Sie geänderte und unveränderte Spinnstellen nebeneinander laufen.',
  'picked-bad':
    'Die Spinnstellen wurden ausgesucht, weil sie schlecht waren: Ein Teil davon war Pech, und sie wären auch ohne Änderung besser geworden. Vergleichen Sie mit ebenso schlechten, die unverändert blieben.',
  layout:
    '{pairs} Paare von Nachbarn in {sections} Sektionen. Nach einem Viertel der Stunden die Teile innerhalb jedes Paares tauschen, nach drei Vierteln zurücktauschen. Eine Spinnstelle wird nur geöffnet, wenn ihr Rotor steht, von Fachpersonal und nach der Betriebsanleitung der Maschine; nur Laufstunden zählen.',
} as const;
