export const refused = {
  because: 'Das lässt sich nicht festhalten: {why}.',
  'case-begins':
    'ein Fall beginnt damit, dass er eröffnet wird, und dieser Schritt lässt sich nicht zurückziehen',
  'case-open': 'der Fall ist schon offen',
  'case-closed-diagnose': 'der Fall ist abgeschlossen; zum weiteren Diagnostizieren wieder öffnen',
  'case-closed-step': 'der Fall ist abgeschlossen, also kann kein „{step}“ folgen; ihn erst wieder öffnen',
  'trial-spoilt':
    'ein Versuch läuft, und eine weitere Änderung würde ihn verderben; den Versuch erst abschließen',
  'trial-already': 'ein Versuch läuft schon; ihn erst abschließen',
  'trial-running': 'ein Versuch läuft; ihn erst abschließen',
  'nothing-to-try': 'es gibt noch nichts zu erproben; erst die Maßnahme festhalten, die erprobt wird',
  'no-trial': 'es läuft kein Versuch',
  'cannot-follow': '„{step}“ kann nicht folgen, solange der Fall im Zustand {state} ist',
  'confirmed-nothing': 'ohne Grundursache kann nichts nachgewiesen worden sein ({how})',
  'beside-root': 'Ursachen daneben stehen neben einer Grundursache; die Grundursache nennen',
  'say-how': 'angeben, wie die Grundursache nachgewiesen wurde: by-trial, by-part, by-look oder unconfirmed',
  'beside-itself': '„{cause}“ ist die Grundursache und kann nicht neben sich selbst stehen',
  'needs-trial': 'durch Versuch nachgewiesen braucht einen abgeschlossenen Versuch, der besser ausging',
  'needs-part':
    'durch ein Teil nachgewiesen braucht die Kontrolle oder Maßnahme, bei der das Teil getauscht wurde',
  'needs-look': 'durch Ansehen nachgewiesen braucht die Kontrolle, bei der es gesehen wurde',
  'found-before':
    '{time} als Zeit, zu der die Ursache gefunden wurde, liegt vor der Eröffnung des Falls, {opened}',
  'fixed-before':
    '{time} als Zeit, zu der die Maschine wieder gut lief, liegt vor der Eröffnung des Falls, {opened}',
  'diagnosis-kept':
    'Eine abgelegte Diagnose ist, was damals gesagt wurde, und lässt sich nicht berichtigen; eine neue machen.',
  'step-turned':
    'Ein Schritt „{step}“ lässt sich berichtigen oder zurückziehen, aber nicht in „{into}“ verwandeln.',
  'complaint-begins': 'eine Reklamation beginnt damit, dass sie aufgenommen wird',
  'complaint-closed': 'die Reklamation ist abgeschlossen; sie erst wieder öffnen',
  'complaint-logged': 'die Reklamation ist schon aufgenommen',
  'complaint-open': 'die Reklamation ist schon offen',
  'nothing-to-verify': 'es gibt noch keine Abhilfe, die sich prüfen ließe; sie erst festhalten',
  'closing-needs': 'zum Abschließen fehlt {what}; das festhalten oder den Grund angeben, warum es fehlt',
  'a-root-cause': 'eine Grundursache',
  'a-corrective': 'eine Abhilfe',
  'a-verification': 'eine Prüfung der Abhilfe',
  'photos-full': 'Die Reklamation „{id}“ hat schon {most} Fotos. Erst eines zurückziehen.',
  'no-pictures':
    'Auf diesem Rechner lassen sich keine Bilder lesen: das Programm dafür gibt es für ihn nicht. Alles andere läuft.',
  'course-not-open': 'Dieser Kurs ist für Lernende nicht offen. Den Ausbilder bitten, ihn zu öffnen.',
  'setup-corrected':
    'Der Einstellungseintrag „{id}“ wurde schon berichtigt oder zurückgezogen. Den Eintrag berichtigen, der an seine Stelle trat.',
  taken: '{kind} „{id}“ gibt es schon. Eine andere Kennung wählen oder den vorhandenen Eintrag ändern.',
  'token-taken':
    'Ein Zugangsschlüssel „{name}“ ist schon da. Einen anderen Namen wählen oder den alten zuerst widerrufen.',
  'not-held': 'Der Wissensstand {id} wird nicht zurückgehalten, es gibt also nichts anzunehmen.',
  'not-held-here':
    'Der Wissensstand {version} wird hier nicht zurückgehalten; die Seite neu öffnen, um zu sehen, wie es steht.',
  'last-administrator':
    'Das ist der letzte Administrator. Erst einen anderen anlegen, damit jemand die Konten betreuen kann.',
  'link-gone':
    'Dieser Link gilt nicht mehr: er wurde benutzt, ist zu alt, oder es gibt einen neueren. Um einen neuen bitten.',
  blocked: 'Das Konto „{name}“ ist gesperrt. Es erst entsperren.',
  'not-there': 'Im Journal gibt es nichts unter {kind} „{id}“.',
  'key-used':
    'Der Schlüssel „{key}“ wurde {at} für eine andere Anfrage benutzt. Für jede neue Anfrage einen neuen nehmen.',
  'batch-used':
    'Die Lieferung „{batch}“ wurde {at} mit anderem Inhalt aufgenommen. Jeder Lieferung eine eigene Kennung geben.',
  stale:
    '{kind} „{id}“ wurde inzwischen geändert: Sie sahen Stand {seen}, jetzt gilt Stand {present}; ansehen, was sich geändert hat, und Ihres noch einmal festhalten',
  'stale-by':
    '{kind} „{id}“ wurde inzwischen von {who} geändert: Sie sahen Stand {seen}, jetzt gilt Stand {present}; ansehen, was sich geändert hat, und Ihres noch einmal festhalten',
  'provider-no-role': 'Der Anbieter gibt hier keine Rolle. Fragen, wer ihn betreut.',
  'provider-blocked': 'Dieses Konto ist gesperrt.',
  'provider-name': 'Der Name, den der Anbieter nennt, kann hier nicht verwendet werden.',
  'provider-not-bound': 'Es gibt schon ein Konto „{name}“, das nicht mit dem Anbieter verbunden ist.',
  'provider-no-account':
    'Hier gibt es noch kein Konto für diese Anmeldung. Einen Administrator von Peelpoint bitten, eines anzulegen.',
  'provider-same-name':
    'Ein anderes Konto zeigt schon denselben Namen. Einen Administrator von Peelpoint fragen.',
} as const;

export const keptKind = {
  frame: 'Maschine',
  yarn: 'Garn',
  lot: 'Partie',
  case: 'Fall',
  complaint: 'Reklamation',
  course: 'Kurs',
  knowledge: 'Wissensstand',
  'practice-case': 'Übungsfall',
  'practice case': 'Übungsfall',
  'version of the practice case': 'Fassung des Übungsfalls',
  step: 'Schritt',
  diagnosis: 'Diagnose',
  attempt: 'Versuch',
  'setup entry': 'Einstellungseintrag',
  photo: 'Foto',
  'photo in view': 'sichtbares Foto',
  token: 'Zugangsschlüssel',
  'token in use': 'gültiger Zugangsschlüssel',
  'knowledge version': 'Wissensstand',
  account: 'Konto',
} as const;
