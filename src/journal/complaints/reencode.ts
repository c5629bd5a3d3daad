import { say } from '../../language/say.js';
import { JournalError, JournalInputError } from '../errors.js';
import { type PictureType, sniffPicture } from './picture-type.js';

/** Most pixels of a picture that is opened: more than cameras in pockets take, and decoded in bounded memory. */
export const MOST_PIXELS = 50_000_000;
/** Longest side of a picture that is kept, pixels; a larger one is scaled down. */
export const LONGEST_SIDE = 2400;
/** A picture that takes longer than this is given up, s. */
const MOST_SECONDS = 15;

/** A picture as it is kept. */
export interface KeptPicture {
  readonly type: PictureType;
  readonly bytes: Buffer;
}

const FORMATS: Readonly<Record<PictureType, string>> = {
  'image/png': 'png',
  'image/jpeg': 'jpeg',
  'image/webp': 'webp',
};

/**
 * Draws a picture anew from its pixels, so that nothing but pixels of what was sent is kept: no place or camera, no
 * comment, nothing hidden before or behind the picture. It is turned the way the camera was held, scaled down to
 * {@link LONGEST_SIDE}, and written as what it was, a PNG that would come out too large as a JPEG. The work is done on
 * threads of its own.
 * @param most bytes the kept picture may have
 * @throws JournalInputError for what is no picture of the three kinds, is cut off or damaged, or has too many pixels
 */
export async function reencodePicture(bytes: Uint8Array, most: number): Promise<KeptPicture> {
  const type = sniffPicture(bytes);
  if (type === undefined) throw unusable(say('input.this-file'), say('input.picture'));
  const sharp = await loadSharp();
  const open = () =>
    sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: 'warning', animated: false, sequentialRead: true })
      .autoOrient()
      .resize({ width: LONGEST_SIDE, height: LONGEST_SIDE, fit: 'inside', withoutEnlargement: true })
      .timeout({ seconds: MOST_SECONDS });
  try {
    // Its head alone is read here, before anything is unpacked.
    const { format, width, height } = await sharp(bytes, { limitInputPixels: false }).metadata();
    if (format !== FORMATS[type]) throw unusable(say('input.this-file'), say('input.picture'));
    if (width * height > MOST_PIXELS)
      throw unusable(
        say('input.picture-pixels', { width, height }),
        say('input.million-pixels', { n: MOST_PIXELS / 1e6 }),
      );
    const asJpeg = () => open().flatten({ background: 'white' }).jpeg({ quality: 85 }).toBuffer();
    if (type === 'image/jpeg') return { type, bytes: await asJpeg() };
    const drawn =
      type === 'image/png' ? await open().png().toBuffer() : await open().webp({ quality: 85 }).toBuffer();
    return drawn.length <= most ? { type, bytes: drawn } : { type: 'image/jpeg', bytes: await asJpeg() };
  } catch (error) {
    if (error instanceof JournalError) throw error;
    throw unusable(say('input.picture-cut'), say('input.picture-opens', { seconds: MOST_SECONDS }), error);
  }
}

const unusable = (value: string, allowed: string, cause?: unknown): JournalInputError =>
  Object.assign(new JournalInputError([{ field: 'photo', value, allowed }]), { cause });

/** Loaded when the first picture comes, and without a store of opened files: each is opened once. */
async function loadSharp(): Promise<typeof import('sharp')['default']> {
  try {
    const { default: sharp } = await import('sharp');
    sharp.cache(false);
    // One thread a picture leaves the others to passwords and files.
    sharp.concurrency(1);
    return sharp;
  } catch (error) {
    throw new JournalError('refused', say('refused.no-pictures'), { cause: error });
  }
}
