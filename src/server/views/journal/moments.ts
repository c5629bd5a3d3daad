/** Times of the journal for reading and typing: in the time zone of the server, as the mill's clocks show it. */

const MOMENT = new Intl.DateTimeFormat('en-GB', {
  day: 'numeric',
  month: 'short',
  year: 'numeric',
  hour: '2-digit',
  minute: '2-digit',
});
const DAY = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });
const LONG_DAY = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });

/** "24 Nov 2026, 08:46". */
export const sayMoment = (instant: string) => MOMENT.format(new Date(instant));
/** "24 Nov 2026". */
export const sayDay = (instant: string) => DAY.format(new Date(instant));
/** "24 November 2026", for letters. */
export const sayLongDay = (instant: string) => LONG_DAY.format(new Date(instant));

const two = (value: number) => String(value).padStart(2, '0');

/** For a control that takes a day and a time: "2026-11-24T08:46". */
export function typedMoment(instant: string): string {
  const date = new Date(instant);
  return `${typedDay(instant)}T${two(date.getHours())}:${two(date.getMinutes())}`;
}

/** For a control that takes a day: "2026-11-24". */
export function typedDay(instant: string): string {
  const date = new Date(instant);
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

/** Reads what such a control sends, or what is typed in the same form; undefined when it is no time. */
export function readMoment(text: string): string | undefined {
  const match = /^(\d{4})-(\d\d)-(\d\d)(?:[T ](\d\d):(\d\d)(?::\d\d)?)?$/.exec(text.trim());
  if (match === null) return undefined;
  const [year, month, day, hour, minute] = match.slice(1).map((part) => Number(part ?? 0)) as [
    number,
    number,
    number,
    number,
    number,
  ];
  const date = new Date(year, month - 1, day, hour, minute);
  const same =
    date.getFullYear() === year &&
    date.getMonth() === month - 1 &&
    date.getDate() === day &&
    date.getHours() === hour;
  return same ? date.toISOString() : undefined;
}

/** The instant so many months before another; the day is kept where the month has it. */
export function monthsBefore(instant: string, months: number): string {
  const date = new Date(instant);
  const day = date.getDate();
  date.setDate(1);
  date.setMonth(date.getMonth() - months);
  const last = new Date(date.getFullYear(), date.getMonth() + 1, 0).getDate();
  date.setDate(Math.min(day, last));
  return date.toISOString();
}
