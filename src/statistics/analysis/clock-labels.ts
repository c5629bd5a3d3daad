const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** "24 Nov", from a wall-clock time in ms. */
export function sayDay(wall: number): string {
  const date = new Date(wall);
  return `${date.getUTCDate()} ${MONTHS[date.getUTCMonth()] ?? ''}`;
}

/** "24 Nov 06:00". */
export function sayMoment(wall: number): string {
  return `${sayDay(wall)} ${sayHour(new Date(wall).getUTCHours())}`;
}

/** "06:00"; 24 is "24:00". */
export function sayHour(hour: number): string {
  return `${String(hour).padStart(2, '0')}:00`;
}
