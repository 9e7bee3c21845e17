/** A point, m. */
export interface Point {
  x: number;
  y: number;
}

/**
 * Where the lines a1·x + b1·y = 1 and a2·x + b2·y = 1 cross.
 * @param out gets the point, m, where the answer is true.
 * @returns false for lines that turn by less than `sine` (the sine of the least turn) from each other.
 */
export function crossing(a1: number, b1: number, a2: number, b2: number, sine: number, out: Point): boolean {
  const det = a1 * b2 - a2 * b1;
  if (!(det * det > sine * sine * (a1 * a1 + b1 * b1) * (a2 * a2 + b2 * b2))) return false;
  out.x = (b2 - b1) / det;
  out.y = (a1 - a2) / det;
  return true;
}
