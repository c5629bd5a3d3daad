import { createHash, randomUUID } from 'node:crypto';
import type { Kysely } from 'kysely';
import { say } from '../../language/say.js';
import { addEntry, notFound, takeNextVersion } from '../entries.js';
import { JournalError, JournalInputError } from '../errors.js';
import { type By, plainText, readInput } from '../input.js';
import { type Journal, read, write } from '../store.js';
import type { Tables } from '../tables.js';
import type { PictureType } from './picture-type.js';
import { reencodePicture } from './reencode.js';
import { settleComplaint } from './write-complaint.js';

/** Most bytes of a photo, and most photos of a complaint. */
export const MOST_PHOTO_BYTES = 5 * 1024 * 1024;
export const MOST_PHOTOS = 8;

/** A photo without its bytes. */
export interface PhotoRecord {
  readonly id: string;
  readonly complaint: string;
  readonly at: string;
  readonly who: string;
  readonly type: PictureType;
  readonly size: number;
  readonly caption: string;
  /** Withdrawn photos stay in the journal and are not shown. */
  readonly withdrawn: boolean;
}

const captionSchema = plainText(500);

/**
 * Adds a photo to a complaint, drawn anew from its pixels: the file that was sent is not kept. Photos from before this
 * was done stay as they were sent; they are served as ever, as pictures and nothing else.
 * @throws JournalInputError for what is no PNG, JPEG or WebP picture, is damaged or too large; JournalError `refused` when the
 * complaint has its fill of photos
 */
export async function addPhoto(
  journal: Journal,
  complaint: string,
  photo: { readonly bytes: Uint8Array; readonly caption?: string },
  by: By,
): Promise<PhotoRecord> {
  const { bytes } = photo;
  const caption = readInput(captionSchema, photo.caption ?? '', 'photo.caption');
  if (bytes.length === 0 || bytes.length > MOST_PHOTO_BYTES)
    throw new JournalInputError([
      {
        field: 'photo',
        value: say('input.bytes', { n: bytes.length }),
        allowed: say('input.photo-bytes', { most: MOST_PHOTO_BYTES }),
      },
    ]);
  const { type, bytes: drawn } = await reencodePicture(bytes, MOST_PHOTO_BYTES);
  const digest = digestOf(drawn);
  return write(journal, by, { addPhoto: digestOf(bytes), complaint, caption }, async (writing) => {
    const { trx, at, who } = writing;
    const version = await takeNextVersion(writing, 'complaint', complaint);
    const present = await listPhotosOf(trx, complaint);
    if (present.filter((one) => !one.withdrawn).length >= MOST_PHOTOS)
      throw new JournalError('refused', say('refused.photos-full', { id: complaint, most: MOST_PHOTOS }));
    const id = `photo-${randomUUID()}`;
    const row = { id, complaint, at, who, type, size: drawn.length, caption };
    await trx
      .insertInto('photos')
      .values({ ...row, digest, withdrawn: 0, bytes: drawn })
      .execute();
    await addEntry(writing, 'complaint', complaint, version, {
      step: 'photo-added',
      data: { step: 'photo-added', photo: id },
    });
    await settleComplaint(writing, complaint);
    return { ...row, withdrawn: false };
  });
}

const digestOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** Takes a photo out of view; its bytes stay in the journal. @throws JournalError `not-found` or `refused` */
export async function withdrawPhoto(journal: Journal, id: string, why: string, by: By): Promise<PhotoRecord> {
  const reason = readInput(plainText(1000).min(1), why, 'why');
  return write(journal, by, { withdrawPhoto: id, reason }, async (writing) => {
    const row = await writing.trx
      .updateTable('photos')
      .set({ withdrawn: 1 })
      .where('id', '=', id)
      .where('withdrawn', '=', 0)
      .returning(PHOTO_COLUMNS)
      .executeTakeFirst();
    if (row === undefined) throw notFound('photo in view', id);
    const version = await takeNextVersion(writing, 'complaint', row.complaint);
    await addEntry(writing, 'complaint', row.complaint, version, {
      step: 'photo-withdrawn',
      data: { step: 'photo-withdrawn', photo: id, why: reason },
    });
    await settleComplaint(writing, row.complaint);
    return toPhoto(row);
  });
}

/** A photo with its bytes and the response headers under which it is safe to serve. */
export interface ServedPhoto extends PhotoRecord {
  readonly bytes: Uint8Array;
  readonly headers: Readonly<Record<string, string>>;
}

/** A photo with its bytes. @throws JournalError `not-found`, also for one that was withdrawn */
export async function findPhoto(journal: Journal, id: string): Promise<ServedPhoto> {
  return read(journal, async (db) => {
    const row = await db
      .selectFrom('photos')
      .select([...PHOTO_COLUMNS, 'bytes', 'digest'])
      .where('id', '=', id)
      .executeTakeFirst();
    if (row === undefined || row.withdrawn === 1) throw notFound('photo', id);
    const photo = toPhoto(row);
    const ending = photo.type.slice('image/'.length);
    return {
      ...photo,
      bytes: row.bytes,
      headers: {
        'Content-Type': photo.type,
        'X-Content-Type-Options': 'nosniff',
        'Content-Disposition': `inline; filename="${id}.${ending}"`,
        'Content-Security-Policy': "default-src 'none'; sandbox",
        'Cross-Origin-Resource-Policy': 'same-origin',
        ETag: `"${row.digest.slice(0, 32)}"`,
        'Cache-Control': 'private, no-cache',
      },
    };
  });
}

const PHOTO_COLUMNS = ['id', 'complaint', 'at', 'who', 'type', 'size', 'caption', 'withdrawn'] as const;

/** The photos of a complaint, oldest first, inside a transaction or not. */
export async function listPhotosOf(db: Kysely<Tables>, complaint: string): Promise<PhotoRecord[]> {
  const rows = await db
    .selectFrom('photos')
    .select(PHOTO_COLUMNS)
    .where('complaint', '=', complaint)
    .orderBy('at')
    .orderBy('id')
    .execute();
  return rows.map(toPhoto);
}

const toPhoto = (row: Pick<Tables['photos'], (typeof PHOTO_COLUMNS)[number]>): PhotoRecord => ({
  id: row.id,
  complaint: row.complaint,
  at: row.at,
  who: row.who,
  type: row.type as PictureType,
  size: row.size,
  caption: row.caption,
  withdrawn: row.withdrawn === 1,
});
