import { presetSetting, readSetting, writeSetting } from '../clients/settings.js';
import type { By } from '../input.js';
import type { Journal } from '../store.js';
import { knowsTimeZone, serverTimeZone } from './mill-time.js';

/**
 * The time zone of the mill, IANA name: that of the journal, or the server's own while the journal has none. A zone that
 * this machine does not know (a younger name than its tables) reads as UTC rather than as some other place.
 */
export async function readMillZone(journal: Journal): Promise<string> {
  const setting = await readSetting(journal, 'time-zone');
  if (setting === undefined) return serverTimeZone();
  return knowsTimeZone(setting.value) ? setting.value : 'UTC';
}

/** Sets the time zone of the mill. What was kept stays as it is: only days and clock times are read anew. @throws JournalInputError */
export const setMillZone = (journal: Journal, zone: string, by: By): Promise<void> =>
  writeSetting(journal, 'time-zone', zone, by);

/** Gives a journal that has no time zone yet the one wanted, or the server's own. */
export async function ensureMillZone(journal: Journal, wanted: string = serverTimeZone()): Promise<void> {
  if ((await readSetting(journal, 'time-zone')) === undefined)
    await presetSetting(journal, 'time-zone', wanted);
}
