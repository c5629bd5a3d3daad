/** Kinds of picture that are kept. All three are raster formats a browser shows without running anything. */
export type PictureType = 'image/png' | 'image/jpeg' | 'image/webp';

const PNG = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

/**
 * The kind of picture a file is, by its first bytes alone; whatever name or type came with it does not matter.
 * PNG and JPEG must also end as such files do, WebP must be as long as it says: a cut-off upload is refused.
 * @returns undefined when it is none of the three
 */
export function sniffPicture(bytes: Uint8Array): PictureType | undefined {
  const text = (from: number, until: number) => String.fromCharCode(...bytes.subarray(from, until));
  if (PNG.every((byte, n) => bytes[n] === byte))
    return text(12, 16) === 'IHDR' && text(bytes.length - 8, bytes.length - 4) === 'IEND'
      ? 'image/png'
      : undefined;
  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff)
    return endsJpeg(bytes) ? 'image/jpeg' : undefined;
  if (text(0, 4) === 'RIFF' && text(8, 12) === 'WEBP') {
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const size = view.getUint32(4, true) + 8;
    return bytes.length === size || bytes.length === size + 1 ? 'image/webp' : undefined;
  }
  return undefined;
}

/** Cameras may write a few bytes behind the end mark, so it is looked for in the last stretch. */
function endsJpeg(bytes: Uint8Array): boolean {
  for (let n = bytes.length - 2; n >= Math.max(2, bytes.length - 4096); n--)
    if (bytes[n] === 0xff && bytes[n + 1] === 0xd9) return true;
  return false;
}
