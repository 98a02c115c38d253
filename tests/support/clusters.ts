/** Mean size, in pixels, of the groups of touching 1s, corners included. */
export function meanClusterSize(bits: ArrayLike<number>, columns: number, rows: number): number {
  const seen = new Uint8Array(columns * rows);
  let groups = 0;
  let pixels = 0;
  for (let start = 0; start < seen.length; start++) {
    if (bits[start] === 0 || seen[start] === 1) continue;
    groups++;
    seen[start] = 1;
    const open = [start];
    for (let at = open.pop(); at !== undefined; at = open.pop()) {
      pixels++;
      const x = at % columns;
      const y = (at - x) / columns;
      for (let toY = Math.max(0, y - 1); toY <= Math.min(rows - 1, y + 1); toY++) {
        for (let toX = Math.max(0, x - 1); toX <= Math.min(columns - 1, x + 1); toX++) {
          const to = toY * columns + toX;
          if (bits[to] === 0 || seen[to] === 1) continue;
          seen[to] = 1;
          open.push(to);
        }
      }
    }
  }
  return pixels / groups;
}
