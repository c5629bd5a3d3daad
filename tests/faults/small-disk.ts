import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A disk in memory of a few megabytes. */
export interface SmallDisk {
  readonly folder: string;
  /** Makes it as large as said, MB, and writable or not. */
  remount(megabytes: number, mode?: 'rw' | 'ro'): void;
  remove(): void;
}

const mount = (...args: string[]) => spawnSync('mount', args, { encoding: 'utf8' });

/** Makes such a disk; undefined where mounting is not allowed, which takes root and the right to mount. */
export function makeSmallDisk(megabytes: number): SmallDisk | undefined {
  if (process.platform !== 'linux' || process.getuid?.() !== 0) return undefined;
  const folder = mkdtempSync(join(tmpdir(), 'peelpoint-disk-'));
  if (mount('-t', 'tmpfs', '-o', `size=${megabytes}m,mode=755`, 'tmpfs', folder).status !== 0) {
    rmdirSync(folder);
    return undefined;
  }
  return {
    folder,
    remount(size, mode = 'rw') {
      const { status, stderr } = mount('-o', `remount,size=${size}m,${mode}`, folder);
      if (status !== 0) throw new Error(stderr);
    },
    remove() {
      spawnSync('umount', ['-l', folder]);
      rmdirSync(folder);
    },
  };
}

/** Whether such a disk can be made here. */
export function canMount(): boolean {
  const disk = makeSmallDisk(1);
  disk?.remove();
  return disk !== undefined;
}
