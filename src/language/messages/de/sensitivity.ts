export const sensitivity = {
  back: 'Zurück zur Antwort',
  'base-rate-of': 'Grundhäufigkeit von „{cause}“',
  'rule-for': 'Regel „{rule}“ für „{cause}“',
  'rule-against': 'Regel „{rule}“ gegen „{cause}“',
  link: 'Zusammenhang „{from}“ → „{to}“',
  'as-table': 'Dasselbe als Tabelle',
  number: 'Zahl',
  'if-were': 'Wäre sie',
  'then-points': 'Dann (Punkte)',
  hint: 'Jede Zahl wird allein um einen Schritt bewegt: eine Grundhäufigkeit halbiert oder verdoppelt, eine Stärke oder ein Gewicht bis zum nächsten Namen auf der Skala. Was falsch sein müsste, damit die Antwort falsch ist, verdient einen zweiten Blick.',
  picture:
    'Wohin die Wahrscheinlichkeit geht, wenn eine Zahl einen Schritt niedriger oder höher liegt. Die senkrechte Linie ist der heutige Wert.',
  tick: 'Zuerst wenigstens ein Anzeichen ankreuzen; dann sagt diese Seite, an welchen Zahlen des Wissens die Antwort hängt.',
  'moves-most': '„{cause}“: was am meisten daran bewegt',
  now: 'jetzt {value}',
  'leads-then': 'Dann führt „{cause}“.',
  'in-case': '„{cause}“ in diesem Fall',
  heading: 'An welchen Zahlen das hängt',
  lead: '„{cause}“ führt. {overturning}',
  'none-overturns':
    'Keine einzelne Zahl des Wissens würde, um einen Schritt bewegt, eine andere Ursache an die Spitze bringen.',
  overturning:
    '{n, plural, one {Ein Schritt einer Zahl würde} other {# Schritte einzelner Zahlen würden}} eine andere Ursache an die Spitze bringen.',
  leader: '{number} von {from} auf {to}: dann führt „{cause}“.',
  'stands-still':
    '„{cause}“ steht bei {now}. Kein einzelner Schritt bewegt sie um einen halben Prozentpunkt oder mehr.',
  'hangs-most':
    '„{cause}“ steht bei {now}. Am meisten hängt sie an dieser Zahl: {number}. Mit {to} statt {from} stünde sie bei {after}.',
  'how-far': 'Wie weit einzelne Zahlen „{cause}“ bewegen',
  'not-tried':
    '{n} weitere Schritte wurden nicht versucht, weil der Fall aufwendig zu rechnen ist; versucht wurden die aussichtsreichsten.',
  'tornado-about':
    'Ein Balken je Zahl der Wissensbasis: wie weit die Wahrscheinlichkeit geht, wenn die Zahl einen Schritt niedriger oder höher liegt. Die senkrechte Linie ist die Wahrscheinlichkeit jetzt. Die Tabelle sagt dasselbe.',
} as const;
