/** A value of a case file, "3.7 alpha-e" or "100000 rpm", with its unit as a reader knows it and thousands parted. */
export const plainUnits = (text: string): string =>
  text
    .replace(/ alpha-e$/, ' αe')
    .replace(/ alpha-m$/, ' αm')
    .replace(/ alpha-tex$/, ' αtex')
    .replace(/ deg$/, '°')
    .replace(/ C$/, ' °C')
    .replace(/(\d)(\d{3}) (rpm|h)$/, '$1\u202f$2 $3');
