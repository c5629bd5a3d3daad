import { crc32 } from 'node:zlib';
import fc from 'fast-check';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { LONGEST_SIDE, reencodePicture } from '../../src/journal/complaints/reencode.js';
import { drawStripes } from '../../src/journal/demo/stripe-picture.js';

const MOST = 5 * 1024 * 1024;
const redraw = (bytes: Uint8Array) => reencodePicture(bytes, MOST);
const noise = (width: number, height: number) =>
  sharp({
    create: {
      width,
      height,
      channels: 3,
      background: 'white',
      noise: { type: 'gaussian', mean: 128, sigma: 40 },
    },
  });
/** Left half red, right half blue, 60 × 20, as a camera held on its side writes it. */
const sideways = () =>
  sharp({ create: { width: 60, height: 20, channels: 3, background: 'red' } })
    .composite([
      { input: { create: { width: 30, height: 20, channels: 3, background: 'blue' } }, left: 30, top: 0 },
    ])
    .withExif({
      IFD0: { Make: 'Secretcam', ImageDescription: '<script>alert(1)</script>' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '41/1 0/1 0/1' },
    })
    .withMetadata({ orientation: 6 });

describe('a picture that is kept', () => {
  it('is turned as the camera was held, and says nothing of camera or place', async () => {
    const sent = await sideways().jpeg().toBuffer();
    expect(sent.toString('latin1')).toContain('Secretcam');
    const { type, bytes } = await redraw(sent);
    expect(type).toBe('image/jpeg');
    const kept = await sharp(bytes).metadata();
    expect(kept).toMatchObject({ format: 'jpeg', width: 20, height: 60 });
    expect([kept.exif, kept.xmp, kept.icc, kept.iptc, kept.orientation]).toEqual([
      undefined,
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
    const text = bytes.toString('latin1');
    for (const word of ['Secretcam', 'script', 'GPS', 'Exif']) expect(text).not.toContain(word);
    // Orientation 6: the left of the file is the top of the picture.
    const pixels = await sharp(bytes).raw().toBuffer();
    expect(pixels[0]).toBeGreaterThan(200);
    expect(pixels[pixels.length - 1]).toBeGreaterThan(200);
  });

  it.each(['png', 'webp', 'jpeg'] as const)('stays %s, pixels unharmed', async (format) => {
    const sent = await sharp(drawStripes(9)).toFormat(format, { quality: 95 }).toBuffer();
    const { type, bytes } = await redraw(sent);
    expect(type).toBe(`image/${format}`);
    const [was, is] = await Promise.all(
      [sent, bytes].map((one) => sharp(one).toColourspace('b-w').raw().toBuffer({ resolveWithObject: true })),
    );
    expect(is?.info).toMatchObject({ width: 240, height: 160 });
    let far = 0;
    for (const [n, value] of (was?.data ?? Buffer.alloc(0)).entries())
      far = Math.max(far, Math.abs(value - (is?.data[n] ?? 0)));
    expect(far).toBeLessThan(format === 'png' ? 1 : 40);
  });

  it('is scaled down to what a page needs, and a PNG that stays large becomes a JPEG', async () => {
    const wide = await noise(3000, 300).jpeg({ quality: 60 }).toBuffer();
    expect(await sharp((await redraw(wide)).bytes).metadata()).toMatchObject({
      width: LONGEST_SIDE,
      height: 240,
    });
    const small = await reencodePicture(await noise(300, 300).png().toBuffer(), 100_000);
    expect(small.type).toBe('image/jpeg');
    expect(small.bytes.length).toBeLessThan(100_000);
  });

  it('carries nothing that was hidden in the file', async () => {
    const jpeg = await sharp(drawStripes(9)).jpeg().toBuffer();
    const hidden = Buffer.concat([
      jpeg.subarray(0, 2),
      Buffer.from([0xff, 0xfe, 0, 2 + 25]),
      Buffer.from('<script>alert(1)</script>'),
      jpeg.subarray(2),
      Buffer.from('PK\u0003\u0004 an archive behind the picture'),
    ]);
    const { bytes } = await redraw(hidden);
    const text = bytes.toString('latin1');
    expect(text).not.toContain('script');
    expect(text).not.toContain('archive');
    expect((await sharp(bytes).metadata()).width).toBe(240);
  });
});

describe('a file that is refused', () => {
  const refused = (bytes: Uint8Array, words: string) =>
    expect(redraw(bytes)).rejects.toMatchObject({
      fault: 'input',
      message: expect.stringContaining(words) as string,
    });

  it('is cut off in the middle, even with its end glued on', async () => {
    const jpeg = await noise(200, 200).jpeg().toBuffer();
    await refused(jpeg.subarray(0, jpeg.length >> 1), 'a whole PNG, JPEG or WebP');
    await refused(
      Buffer.concat([jpeg.subarray(0, jpeg.length >> 1), Buffer.from([0xff, 0xd9])]),
      'cannot be read to its end',
    );
    const png = drawStripes(9);
    await refused(
      Buffer.concat([png.subarray(0, 100), png.subarray(png.length - 12)]),
      'cannot be read to its end',
    );
    const broken = Buffer.from(png);
    broken[80] = (broken[80] ?? 0) ^ 0xff;
    await refused(broken, 'cannot be read to its end');
  });

  it('unpacks to more pixels than allowed; its head is enough to know', async () => {
    const bomb = Buffer.from(drawStripes(9));
    bomb.writeUInt32BE(60_000, 16);
    bomb.writeUInt32BE(60_000, 20);
    bomb.writeUInt32BE(crc32(bomb.subarray(12, 29)), 29);
    await refused(bomb, '60000 × 60000 pixels is not usable; allowed: at most 50 million pixels');
  });

  it('is a picture of another kind, or no picture', async () => {
    const svg = Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>');
    await refused(svg, 'a whole PNG, JPEG or WebP');
    await refused(await sharp(drawStripes(9)).gif().toBuffer(), 'a whole PNG, JPEG or WebP');
    await refused(await sharp(drawStripes(9)).tiff().toBuffer(), 'a whole PNG, JPEG or WebP');
    await refused(Buffer.alloc(0), 'a whole PNG, JPEG or WebP');
  });

  it('is anything else that begins like a picture', async () => {
    const starts = fc.constantFrom(
      Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, 0x49, 0x48, 0x44, 0x52]),
      Buffer.from([0xff, 0xd8, 0xff, 0xe0]),
    );
    const ends = fc.constantFrom(
      Buffer.concat([Buffer.from('IEND'), Buffer.from([0xae, 0x42, 0x60, 0x82])]),
      Buffer.from([0xff, 0xd9]),
    );
    await fc.assert(
      fc.asyncProperty(starts, fc.uint8Array({ maxLength: 300 }), ends, async (start, middle, end) => {
        await expect(redraw(Buffer.concat([start, middle, end]))).rejects.toMatchObject({ fault: 'input' });
      }),
      { numRuns: 60 },
    );
  });
});
