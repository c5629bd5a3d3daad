import { z } from 'zod';
import { say } from '../../language/say.js';
import { addAudit } from '../audit/add-audit.js';
import { type By, readInput } from '../input.js';
import { keepQuery } from '../kept-query.js';
import { type Journal, read, write } from '../store.js';
import { presentInstant } from '../time.js';
import { knowsTimeZone } from '../zone/mill-time.js';

/** Settings of the mill that are kept in its journal. */
const SETTINGS = {
  /** Whether diagnoses start from the base rates learned here instead of the expert's. */
  'use-learned-rates': z.boolean(),
  /** IANA name of the zone whose clocks hang in the mill. */
  'time-zone': z
    .string()
    .max(60)
    .refine(knowsTimeZone, { error: () => say('input.time-zone') }),
} as const;
export type SettingKey = keyof typeof SETTINGS;
export type SettingValue<K extends SettingKey> = z.output<(typeof SETTINGS)[K]>;

/** A setting with who set it and when. */
export interface Setting<K extends SettingKey> {
  readonly value: SettingValue<K>;
  readonly changedAt: string;
  readonly who: string;
}

const rowOf = (key: SettingKey) =>
  keepQuery((db) => db.selectFrom('settings').selectAll().where('key', '=', key));
const rowsOf = {
  'use-learned-rates': rowOf('use-learned-rates'),
  'time-zone': rowOf('time-zone'),
} satisfies Record<SettingKey, unknown>;

/** A setting; undefined when nobody has set it. */
export async function readSetting<K extends SettingKey>(
  journal: Journal,
  key: K,
): Promise<Setting<K> | undefined> {
  const [row] = await read(journal, rowsOf[key]);
  if (row === undefined) return undefined;
  const value = JSON.parse(row.value) as SettingValue<K>;
  return { value, changedAt: row.changed_at, who: row.who };
}

/** Keeps a setting. @throws JournalInputError */
export async function writeSetting<K extends SettingKey>(
  journal: Journal,
  key: K,
  value: SettingValue<K>,
  by: By,
): Promise<void> {
  const checked = readInput(SETTINGS[key], value, key);
  await write(journal, by, { writeSetting: checked, key }, async (writing) => {
    const row = { value: JSON.stringify(checked), changed_at: writing.recorded, who: writing.who };
    await writing.trx
      .insertInto('settings')
      .values({ key, ...row })
      .onConflict((conflict) => conflict.column('key').doUpdateSet(row))
      .execute();
    await addAudit(writing, { kind: 'setting', subject: key, action: 'changed', data: { value: checked } });
  });
}

/** Puts a setting in where there is none, as the program's own choice rather than somebody's change. */
export async function presetSetting<K extends SettingKey>(
  journal: Journal,
  key: K,
  value: SettingValue<K>,
): Promise<void> {
  const checked = readInput(SETTINGS[key], value, key);
  await read(journal, (db) =>
    db
      .insertInto('settings')
      .values({ key, value: JSON.stringify(checked), changed_at: presentInstant(), who: 'Peelpoint' })
      .onConflict((conflict) => conflict.column('key').doNothing())
      .execute(),
  );
}
