import { crc32, deflateSync } from 'node:zlib';

/**
 * A drawn picture of a striped fabric as a PNG of 240 × 160 grey pixels: stands in for a photo in the invented mill and
 * shows at a glance that it is none.
 * @param period rows from stripe to stripe, 4 or more
 */
export function drawStripes(period: number): Buffer {
  const width = 240;
  const height = 160;
  const rows = Buffer.alloc((width + 1) * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const stripe = y % period < period / 4 ? 40 : 0;
      const stitch = (x + (y % 2) * 2) % 4 === 0 ? 12 : 0;
      rows[y * (width + 1) + 1 + x] = 200 - stripe - stitch;
    }
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 0, 0, 0, 0], 8);
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(rows)),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

function chunk(type: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(data.length, 0);
  body.copy(out, 4);
  out.writeUInt32BE(crc32(body), body.length + 4);
  return out;
}
