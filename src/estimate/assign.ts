/**
 * Assignment of rows to columns with the least total cost (global nearest neighbour). Pairs that may not be have cost Infinity
 * and are never assigned; a row or column may stay alone at the price `alone` each.
 *
 * @param cost Float64Array[rows * columns], row by row.
 * @param alone cost of leaving one row, or one column, without a partner.
 * @returns Int32Array[rows], the column of each row or -1.
 * @source Kuhn 1955; Munkres 1957, in the shortest augmenting path form of Jonker & Volgenant, Computing 38 (1987) 325-340.
 * @cost (rows + columns)³ at worst; meant for tens.
 */
export function assign(cost: Readonly<Float64Array>, rows: number, columns: number, alone: number): Int32Array {
  const n = rows + columns; // each row has its own empty column, each column its own empty row: then all are assigned
  const price = (i: number, j: number): number => {
    if (i < rows && j < columns) return cost[i * columns + j] === Infinity ? 1e12 : cost[i * columns + j];
    if (i < rows) return j - columns === i ? alone : 1e12;
    return j >= columns ? 0 : i - rows === j ? alone : 1e12;
  };
  const u = new Float64Array(n + 1);
  const v = new Float64Array(n + 1);
  const row = new Int32Array(n + 1);
  const way = new Int32Array(n + 1);
  const least = new Float64Array(n + 1);
  const used = new Uint8Array(n + 1);
  for (let i = 1; i <= n; i++) {
    row[0] = i;
    least.fill(Infinity);
    used.fill(0);
    let j0 = 0;
    do {
      used[j0] = 1;
      let delta = Infinity;
      let next = 0;
      for (let j = 1; j <= n; j++) {
        if (used[j] === 1) continue;
        const reduced = price(row[j0] - 1, j - 1) - u[row[j0]] - v[j];
        if (reduced < least[j]) {
          least[j] = reduced;
          way[j] = j0;
        }
        if (least[j] < delta) {
          delta = least[j];
          next = j;
        }
      }
      for (let j = 0; j <= n; j++) {
        if (used[j] === 1) {
          u[row[j]] += delta;
          v[j] -= delta;
        } else least[j] -= delta;
      }
      j0 = next;
    } while (row[j0] !== 0);
    while (j0 !== 0) {
      row[j0] = row[way[j0]];
      j0 = way[j0];
    }
  }
  const partner = new Int32Array(rows).fill(-1);
  for (let j = 1; j <= columns; j++) {
    const i = row[j] - 1;
    if (i < rows && cost[i * columns + j - 1] !== Infinity) partner[i] = j - 1;
  }
  return partner;
}
