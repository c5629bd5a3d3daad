export const countAnswer = {
  'no-breaks': 'In der Tabelle steht kein einziger Fadenbruch: nichts zu beurteilen.',
  better: 'Wirklich so: Es wurde besser.',
  real: 'Wirklich so, kein Zufall.',
  'if-nothing':
    'Wenn {better, select, yes {sich nichts geändert hätte} other {nichts los wäre}}, sähen Zählungen so {times} aus.',
  'perhaps-real': 'Vielleicht wirklich so.',
  'something-stands':
    'Etwas fällt auf; bei allem, was angesehen wurde, fällt so viel aber {times} allein durch Zufall auf.',
  'below-norm': 'Nichts ist falsch: weniger Fadenbrüche als die Norm, und nichts fällt auf.',
  'chance-only':
    'Mehr als Zufall ist nicht zu sehen: Fadenbrüche sind seltene Ereignisse, und Zählungen seltener Ereignisse streuen so.',
  level:
    '{breaks} in {hours} Rotorstunden: {rate} je 1000; die wahre Zahl kann irgendwo zwischen {low} und {high} liegen.',
  counted: '{breaks} wurden gezählt.',
  'norm-above': 'Das liegt über der Norm von {norm}: {times}.',
  'norm-below': 'Das liegt unter der Norm von {norm}.',
  'norm-alike': 'Ein Unterschied zur Norm von {norm} ist nicht gezeigt.',
  perhaps: 'Vielleicht: {text}',
  section:
    'Spinnstellen {first} bis {last}{named, select, yes { der Maschine {frame}} other {}} brechen gemeinsam, {times} ({count}, wo {expected} ihr Anteil wären). Sie haben etwas gemeinsam.',
  positions:
    '{many, select, yes {Spinnstellen {list}} other {Spinnstelle {list}}}{named, select, yes { der Maschine {frame}} other {}} {many, select, yes {brechen} other {bricht}} mehr als die anderen.',
  position: '{id} ({breaks}, wo die anderen {expected} haben)',
  innocent: 'Von zehn so genannten Spinnstellen ist etwa eine unschuldig.',
  frame: 'Maschine {frame} bricht {times}.',
  'a-time': 'Weniger ein Ort als eine Zeit: {when} brechen Fäden {times}.',
  nowhere: 'Nirgends.',
  'no-positions':
    'Wo an der Maschine, lässt sich nur aus einer Tabelle sagen, die mindestens vier ihrer Spinnstellen nennt.',
  'some-spread':
    'Die Spinnstellen unterscheiden sich etwas mehr als zufällig, aber keine fällt daraus auf, auch keine Reihe von Nachbarn.',
  'none-stands':
    'Keine Spinnstelle und keine Reihe von Nachbarn fällt auf: Die Fadenbrüche sind so verteilt, wie der Zufall sie verteilt.{shared, select, yes { Es ist also etwas, das alle Spinnstellen gemeinsam haben.} other {}}',
  'nothing-begun': 'Nichts hat begonnen.',
  'too-few':
    'Die Tabelle hat zu wenige Daten oder Fadenbrüche, um zu sagen, seit wann. Zählen Sie eine Woche oder länger, mit Tag und Schicht jeder Zählung.',
  'no-beginning':
    'Ein Beginn ist nicht zu sehen: Vom {from} bis zum {to} stiegen und fielen die Fadenbrüche nicht mehr, als der Zufall es tut.',
  'alarm-rare': 'auf 1000 {units} weniger als ein blinder Alarm',
  'alarm-every': 'etwa alle {n} {units} ein blinder Alarm',
  'alarm-silent':
    'Ein laufender Alarm gegen die Norm, gestellt auf einen Anstieg um die Hälfte, hätte nicht angeschlagen ({every}).',
  'alarm-rung':
    'Ein laufender Alarm gegen die Norm, gestellt auf einen Anstieg um die Hälfte, hätte zuerst {day, select, yes {am} other {am}} {when} angeschlagen ({every}).',
  'from-to': 'von {before} auf {after} je 1000 Rotorstunden',
  'to-times': 'auf das {n}-fache',
  spell:
    '{perhaps, select, yes {vielleicht } other {}}eine schlechte Zeit: {one, select, yes {am {from}} other {vom {from} bis zum {to}}} waren die Fadenbrüche{who, select, named { der genannten Spinnstellen} all { aller Spinnstellen} other {}} {times}.',
  sudden:
    '{perhaps, select, yes {vielleicht } other {}}etwa seit dem {when}{sure, select, yes {} other { (es kann zwischen dem {from} und dem {to} gewesen sein)}}: Die Rate{who, select, named { der genannten Spinnstellen} all { aller Spinnstellen} other {}} stieg auf einmal, {rates}.',
  creeping:
    '{perhaps, select, yes {vielleicht } other {}}nach und nach: Die Rate{who, select, named { der genannten Spinnstellen} all { aller Spinnstellen} other {}} steigt vom {from} bis zum {to}, ohne dass ein Augenblick der Anfang wäre.',
  fell: '{perhaps, select, yes {vielleicht } other {}}besser etwa seit dem {when}: Die Rate{who, select, named { der genannten Spinnstellen} all { aller Spinnstellen} other {}} fiel, {rates}.',
  ongoing: 'So weit die Tabelle zurückreicht: Es lag von Anfang an über der Norm und änderte sich nicht.',
  safety:
    'Eine Spinnstelle nur öffnen, wenn ihr Rotor steht: Rotoren laufen nach dem Halt nach, und Teile sind heiß. Betriebsanleitung der Maschine und geschultes Personal gehen vor.',
  'go-on': 'Weiterzählen; nachsehen, ob überhaupt Fadenbrüche festgehalten wurden.',
  'look-shared':
    'Sehen Sie nach, was diese Nachbarn gemeinsam haben: Antrieb und Riemen, Saugkanal, die Kannen und der Weg zu ihnen, die Strecke, die ein Reiniger oder Anspinner bedient.',
  'ask-changed':
    'Fragen Sie, was an diesen Tagen geändert wurde: Partie, Teile, Einstellungen, Reinigungsrundgang, Klima, Leute.',
  'think-wear':
    'Denken Sie an das, was verschleißt oder sich zusetzt: Düsen, Einsätze, Rillen, Kanäle, Filter, Zähne der Auflösewalze.',
  passed:
    'Es ist vorbei. Fragen Sie, was in dieser Zeit besonders war, und zählen Sie weiter, bevor etwas geändert wird.',
  'compare-hours':
    'Vergleichen Sie diese Stunden mit den anderen: Raumklima, Reinigungszeiten, wer die Maschine bedient, Kannenwechsel.',
  'whole-frame':
    'Sehen Sie nach, was die ganze Maschine gemeinsam hat: Einstellungen, Partie, Klima, Absaugung, Reinigung. Vergleichen Sie mit Maschinen, auf denen dieselbe Partie läuft.',
  'count-again':
    'Zählen Sie dasselbe noch einmal, bevor Teile getauscht werden: Was wirklich ist, kommt an derselben Stelle wieder.',
  'change-nothing': 'Wegen dieser Zählungen nichts ändern; weiterzählen.',
  worst:
    'Die schlechteste Spinnstelle, {id}{named, select, yes { der Maschine {frame}} other {}} mit {breaks}, ist so schlecht, wie die schlechteste von {among} durch Zufall ist: Unverändert hätte sie in derselben Zeit wieder etwa {next}.',
  'hours-in-all': 'insgesamt {n} Rotorstunden',
  'hours-each': '{n} Stunden jeder Spinnstelle',
  'times-now': 'etwa {n}-mal so lange wie jetzt',
  'aim-frame': 'dass alles anderthalbmal so oft bricht wie sonst',
  'aim-position': 'eine einzelne Spinnstelle, die {n}-mal so oft bricht wie die anderen',
  enough: 'Es ist genug gezählt, um zu bemerken: {aim}.',
  'to-notice':
    'Zählen Sie {amount}{known, select, yes {, {n}-mal so viel wie bisher,} other {,}} um zu bemerken: {aim}.',
  'give-norm':
    'Ob alles gleich schlecht ist, zeigt erst der Vergleich mit der üblichen Rate: Geben Sie die Norm an, oder zählen Sie eine Schwestermaschine.',
  aside:
    'Wenn Zeit ist, zählen Sie die {one, select, yes {genannte Spinnstelle} other {genannten Spinnstellen}} noch einmal, bevor dort etwas getan wird.',
  'to-diagnosis':
    'Nehmen Sie das Ergebnis mit in die Diagnose: Sie macht aus Ort, Beginn und Zählungen wahrscheinliche Ursachen.',
  visit:
    'Gehen Sie zu {one, select, yes {dieser Spinnstelle} other {diesen Spinnstellen, zur zuerst genannten zuerst,}} und sehen Sie nach, bevor etwas gereinigt wird; dann ein Teil nach dem anderen mit einem guten Nachbarn tauschen und sehen, ob die Störung mitgeht.',
  picked:
    'Spinnstelle {id} wurde ausgesucht, weil sie schlecht war, und ein Teil ihrer Zahl ist Pech: Unverändert hätte sie in derselben Zeit wieder etwa {next} statt {count}. Messen Sie eine Reparatur daran, oder zählen Sie vorher neu.',
} as const;
