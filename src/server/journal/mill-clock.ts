import { AsyncLocalStorage } from 'node:async_hooks';
import { serverTimeZone } from '../../journal/index.js';

const zone = new AsyncLocalStorage<string>();

/** Runs work, and whatever it awaits, with the clocks of a time zone: all times are said and read in it. */
export const withMillZone = <T>(name: string, work: () => T): T => zone.run(name, work);

/** The time zone of the request at hand; outside of one the server's own. */
export const millZone = (): string => zone.getStore() ?? serverTimeZone();
