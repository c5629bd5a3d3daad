import type { ColumnRole, HoursUnit } from './types.js';

/**
 * Words under which mills head their columns, in plain letters (see {@link plainHeader}): English, German, Spanish, Turkish
 * and usual spellings. `moment` stands for words that may head a time or a time of day; the cells decide.
 */
const WORDS: Readonly<Record<ColumnRole | 'moment', readonly string[]>> = {
  time: [
    'timestamp',
    'time stamp',
    'datetime',
    'date time',
    'date and time',
    'event time',
    'break time',
    'stop time',
    'start time',
    'zeitpunkt',
    'zeitstempel',
    'datum uhrzeit',
    'datum zeit',
    'datum und uhrzeit',
    'fecha hora',
    'fecha y hora',
    'tarih saat',
    'tarih ve saat',
  ],
  moment: [
    'time',
    'start',
    'begin',
    'zeit',
    'beginn',
    'uhrzeit',
    'hora',
    'saat',
    'zaman',
    'clock',
    'time of day',
    'hour',
    'hour of day',
    'stunde',
  ],
  date: ['date', 'day', 'datum', 'tag', 'fecha', 'dia', 'tarih', 'gun'],
  clock: [],
  shift: ['shift', 'shift no', 'schicht', 'turno', 'vardiya', 'crew'],
  frame: [
    'frame',
    'frame no',
    'frame number',
    'frame id',
    'machine',
    'machine no',
    'machine number',
    'machine id',
    'mach',
    'mach no',
    'mc',
    'm c',
    'mc no',
    'm c no',
    'spinning machine',
    'rotor frame',
    'maschine',
    'maschinennr',
    'maschinen nr',
    'maschinennummer',
    'spinnmaschine',
    'masch nr',
    'maquina',
    'maq',
    'hiladora',
    'makine',
    'makine no',
    'makina',
    'makina no',
  ],
  side: ['side', 'frame side', 'machine side', 'seite', 'maschinenseite', 'lado', 'taraf'],
  position: [
    'position',
    'position no',
    'position number',
    'pos',
    'pos no',
    'pos nr',
    'rotor',
    'rotor no',
    'rotor number',
    'spinning position',
    'spinning unit',
    'spinning box',
    'unit',
    'unit no',
    'unit number',
    'spindle',
    'spindle no',
    'spinnstelle',
    'spinnstellen nr',
    'spinnstellennr',
    'stelle',
    'spinnbox',
    'posicion',
    'puesto',
    'puesto de hilatura',
    'unidad',
    'pozisyon',
    'pozisyon no',
  ],
  count: [
    'breaks',
    'end breaks',
    'endbreaks',
    'ends down',
    'yarn breaks',
    'thread breaks',
    'breakages',
    'end breakages',
    'yarn breakages',
    'number of breaks',
    'no of breaks',
    'break count',
    'total breaks',
    'count',
    'events',
    'stops',
    'fadenbruche',
    'anzahl',
    'anzahl fadenbruche',
    'bruche',
    'roturas',
    'numero de roturas',
    'cantidad',
    'kopus',
    'kopus sayisi',
    'iplik kopusu',
    'adet',
  ],
  'rotor-hours': [
    'rotor hours',
    'rotorhours',
    'rotor h',
    'rotor hrs',
    'position hours',
    'positions hours',
    'rotorstunden',
    'spinnstellenstunden',
    'horas rotor',
    'rotor saat',
  ],
  'run-hours': [
    'hours',
    'hours run',
    'run hours',
    'running hours',
    'running time',
    'run time',
    'runtime',
    'operating hours',
    'working hours',
    'hrs',
    'h',
    'betriebsstunden',
    'laufzeit',
    'laufstunden',
    'stunden',
    'horas',
    'horas de marcha',
    'tiempo de marcha',
    'calisma saati',
    'calisma suresi',
  ],
  reason: [
    'reason',
    'stop reason',
    'break reason',
    'cause',
    'fault',
    'fault code',
    'stop code',
    'code',
    'type',
    'description',
    'grund',
    'ursache',
    'fehler',
    'motivo',
    'causa',
    'sebep',
    'neden',
  ],
};

const UNITS: readonly (readonly [RegExp, HoursUnit])[] = [
  [/\b(?:min|mins|minutes|minuten|minutos|dakika|dk)\b/, 'min'],
  [/\b(?:s|sec|secs|seconds|sekunden|segundos|saniye|sn)\b/, 's'],
  [/\b(?:h|hr|hrs|hours|std|stunden|horas|saat)\b/, 'h'],
];

/** A header in plain letters: lower case, no accents, no bracketed unit, signs as blanks. */
export function plainHeader(header: string): string {
  return header
    .toLowerCase()
    .replace(/ı/g, 'i')
    .replace(/ß/g, 'ss')
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[([{].*?[)\]}]/g, ' ')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}

/** The unit that a header states for hours: in brackets, or as its last word. */
export function headerUnit(header: string): HoursUnit | undefined {
  const lower = header.toLowerCase();
  const bracketed = /[([{](.*?)[)\]}]/.exec(lower)?.[1];
  const words =
    bracketed ??
    lower
      .replace(/[^\p{L}]+/gu, ' ')
      .trim()
      .split(' ')
      .at(-1) ??
    '';
  return UNITS.find(([pattern]) => pattern.test(words))?.[1];
}

/** Role that a header's words name; `exact` when the whole header is such a word. */
export function roleOfHeader(
  header: string,
): { readonly role: ColumnRole | 'moment'; readonly exact: boolean } | undefined {
  const plain = plainHeader(header);
  if (plain === '') return undefined;
  let best: { role: ColumnRole | 'moment'; exact: boolean; length: number } | undefined;
  for (const [role, words] of Object.entries(WORDS) as [ColumnRole | 'moment', readonly string[]][]) {
    for (const word of words) {
      if (plain === word) return { role, exact: true };
      // A single letter inside a longer header says nothing.
      if (word.length < 3 || !` ${plain} `.includes(` ${word} `)) continue;
      if (best === undefined || word.length > best.length) best = { role, exact: false, length: word.length };
    }
  }
  return best === undefined ? undefined : { role: best.role, exact: false };
}
