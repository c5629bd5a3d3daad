export const sideBySide = {
  'no-differ': 'Die Einstellungen unterscheiden sich nicht.',
  'all-orders':
    'Anteile sind Mittel über alle Reihenfolgen, in denen die verschiedenen Einstellungen getauscht werden; zusammen ergeben sie den Unterschied.',
  'each-alone':
    '{n} Einstellungen sind verschieden: Jede wird für sich getauscht, und was sie gemeinsam tun, bleibt übrig.',
  same: '{quantity} ist bei „{name}“ und „{first}“ gleich.',
  points: '{n} Punkte',
  differs:
    '{quantity}: bei „{name}“ {amount} {higher, select, yes {höher} other {niedriger}}{driven, select, yes {, durch {drivers}} other {}}{sure, select, yes {} other {; die Unsicherheit reicht aber in beide Richtungen}}.',
  'set-up-as': '„{name}“ ist eingestellt wie „{first}“.',
  'nothing-matters':
    '„{name}“ unterscheidet sich in: {settings}; aber nichts Wichtiges ändert sich um zwei Prozent.',
  goes: '{quantity} geht von {from} auf {to}, wenn {setting} von {start} auf {end} geht{turning, select, yes {, {turns}} other {}}; jetzt {now} ({low} bis {high}) bei {at}.',
  'curve-title': '{quantity} gegen {setting}',
  now: 'jetzt',
  greatest: 'am größten ({value}) bei {at}',
  least: 'am kleinsten ({value}) bei {at}',
} as const;
