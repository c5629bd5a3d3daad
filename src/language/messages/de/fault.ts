export const fault = {
  '400': 'Das lässt sich nicht lesen',
  '400-text': 'Adresse oder Formular sagt nicht, was gewünscht ist. Zurückgehen und noch einmal versuchen.',
  '403': 'Dieses Formular kam von anderswo',
  '403-text':
    'Formulare werden nur von Seiten dieses Servers angenommen. Die Seite neu öffnen und das Formular von dort senden.',
  '404': 'Diese Seite gibt es nicht',
  '404-text': 'Die Adresse ist vielleicht vertippt oder veraltet.',
  '405': 'So lässt sich diese Seite nicht verwenden',
  '405-text': 'Die Seite selbst öffnen und verwenden, was darauf steht.',
  '413': 'Das ist zu groß',
  '413-text': 'Eine Falldatei hat höchstens 60 000 Zeichen, eine Tabelle der Fadenbrüche 16 MB.',
  '415': 'Das ist kein Formular',
  '415-text': 'Hier werden nur Formulare dieser Seiten angenommen.',
  '429': 'Zu viele Anfragen',
  '429-text': 'Bitte kurz warten und dann noch einmal versuchen.',
  '500': 'Hier ist etwas schiefgegangen',
  '500-text':
    'Der Fehler liegt im Programm, nicht in Ihrer Eingabe. Ihr Fall steht noch in der Adresse der vorigen Seite: Gehen Sie dorthin zurück. Kommt es wieder vor, nennen Sie der Betreuung dieses Servers das Kennzeichen unten.',
  busy: 'Der Server ist ausgelastet',
  'too-long': 'Das dauert zu lange',
  'busy-text':
    'Gerade werden mehr Fälle gerechnet, als der Server zugleich schafft. Nichts geht verloren. {kept}',
  'too-long-text': 'Der Fall konnte nicht rechtzeitig gerechnet werden. Gleich noch einmal versuchen. {kept}',
  'kept-address': 'Was Sie eingegeben haben, steht in der Adresse dieser Seite.',
  'kept-page':
    'Was Sie eingegeben haben, steht noch in dieser Seite, Dateien ausgenommen: noch einmal senden.',
  'busy-part':
    'Der Server rechnet an anderen Fällen. In {wait} wird wieder gefragt; was Sie eingegeben haben, bleibt.',
  'too-long-part':
    'Das dauerte zu lange und wurde abgebrochen. Was Sie eingegeben haben, bleibt: etwas ändern oder gleich noch einmal versuchen. Kennzeichen:',
} as const;
