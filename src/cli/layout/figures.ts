/** A probability in whole percent; never `0 %` or `100 %` for what is neither impossible nor certain. */
export function percent(p: number): string {
  if (p > 0 && p < 0.01) return '<1 %';
  if (p < 1 && p > 0.99) return '>99 %';
  return `${Math.round(100 * p)} %`;
}

/** The same to a tenth of a percent below 10 %, for figures that are followed step by step. */
export function finePercent(p: number): string {
  if (p > 0 && p < 0.0005) return '<0.1 %';
  return p > 0 && p < 0.1 ? `${(100 * p).toFixed(1)} %` : percent(p);
}

/** A weight in decibans with its sign, to a tenth. */
export function decibans(weight: number): string {
  const text = Math.abs(weight).toFixed(1);
  return text === '0.0' ? '0.0' : `${weight > 0 ? '+' : '−'}${text}`;
}

/** Minutes in words: `4 min`, `2 h 30 min`. */
export function minutes(value: number): string {
  const whole = Math.max(value > 0 ? 1 : 0, Math.round(value));
  if (whole < 120) return `${whole} min`;
  const hours = Math.floor(whole / 60);
  return whole % 60 === 0 ? `${hours} h` : `${hours} h ${whole % 60} min`;
}

/** A computed number for reading: three significant digits, whole and grouped by blanks from 1000. */
export function number(value: number): string {
  if (!Number.isFinite(value)) return value > 0 ? 'none' : String(value);
  const size = Math.abs(value);
  if (size >= 999.5) return (value < 0 ? '−' : '') + group(Math.round(size));
  const text = String(Number(size.toPrecision(3)));
  return value < 0 && text !== '0' ? `−${text}` : text;
}

const group = (whole: number) => String(whole).replace(/\B(?=(\d{3})+(?!\d))/g, ' ');

/** A number to so many significant digits, without an exponent where it can be written out. */
export function exact(value: number, digits: number): string {
  return String(Number(value.toPrecision(digits)));
}
