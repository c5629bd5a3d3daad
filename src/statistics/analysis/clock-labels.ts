import { type KeysOf, say } from '../../language/say.js';

/** "24 Nov", from a wall-clock time in ms. */
export function sayDay(wall: number): string {
  const date = new Date(wall);
  return say('count-words.day-month', {
    day: date.getUTCDate(),
    month: say(`month.${String(date.getUTCMonth() + 1) as KeysOf<'month'>}`),
  });
}

/** "24 Nov 06:00". */
export function sayMoment(wall: number): string {
  return `${sayDay(wall)} ${sayHour(new Date(wall).getUTCHours())}`;
}

/** "06:00"; 24 is "24:00". */
export function sayHour(hour: number): string {
  return `${String(hour).padStart(2, '0')}:00`;
}
