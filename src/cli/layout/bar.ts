const EIGHTHS = ['', '▏', '▎', '▍', '▌', '▋', '▊', '▉'] as const;

/**
 * A share as a bar: blocks to an eighth of a cell, or number signs where the screen shows ASCII alone.
 * @param share 0–1; anything above 0 shows at least the thinnest mark
 * @param cells columns of a full bar
 */
export function drawBar(share: number, cells: number, unicode: boolean): string {
  const size = Math.min(1, Math.max(0, share)) * cells;
  if (!unicode) return '#'.repeat(share > 0 ? Math.max(1, Math.round(size)) : 0);
  const eighths = share > 0 ? Math.max(1, Math.round(size * 8)) : 0;
  return '█'.repeat(Math.floor(eighths / 8)) + (EIGHTHS[eighths % 8] ?? '');
}
