/** Why a number or quantity cannot be read. */
export const number = {
  'two-ways': '"{text}" can be read two ways; write {one} or {other}',
  'not-a-number': '"{text}" is not a number',
  'give-number': 'give a number, with or without a unit',
  'no-unit-here': '"{unit}" is not a unit of this field',
  'plain-only': '"{unit}" does not belong here; give a plain number',
  'unit-allowed': '"{unit}" is not a unit of this field; allowed: {units}',
  'above-0': '"{text}" must be above 0',
  'not-below-0': '"{text}" must not be below 0',
  'out-of-reach': '"{text}" is too large or too small to be meant',
  'needs-count': 'a twist in {unit} needs the yarn count as well',
  'per-metre': 'alpha-tex is counted in turns a metre here: {value} turns a centimetre are {metre}',
  plain: 'a plain number',
  nothing: 'nothing was given',
  'two-units': '"{text}" names two units',
} as const;
