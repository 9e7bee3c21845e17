import type { Clearance, Point } from '#client';

/** What a place on the plan is. `away`: nothing vouches for it, behind an edge; drawn as nothing at all. */
export type Ground = 'away' | 'vouched' | 'unknown' | 'met' | 'open' | 'rover' | 'ahead' | 'scale';

/** One character of the plan. */
export interface Cell {
  readonly glyph: string;
  readonly ground: Ground;
}

/** What a plan shows. Without a clearance every place is unknown. */
export interface Scene {
  readonly clearance: Clearance | undefined;
  /** m, rover axes. */
  readonly outline: readonly Point[];
  /** m, from the rover to the nearer edge of the sheet. */
  readonly radius: number;
}

const DOTS = { across: 2, down: 4 } as const; // of one character: a braille pattern; a character is about twice as high as wide
const BRAILLE = 0x2800; // Unicode 17, 21.1: the pattern without dots; bit i is dot i + 1
const DOT_BITS = [0x01, 0x08, 0x02, 0x10, 0x04, 0x20, 0x40, 0x80]; // of the dots row by row, left before right
const SLANT = 0.17; // m/m: between two sectors of 5 degrees, a wall seen at 63 degrees from its normal
const BAR_CELLS = 4; // least length of the scale's bar
const BAR_LENGTHS = [0.1, 0.2, 0.5, 1, 2, 5, 10]; // m

/** Signs of the plan: shapes tell them apart, colour only repeats it. An obstacle's edge is drawn in braille instead. */
export const SIGNS = {
  unicode: { vouched: '·', unknown: '╱', open: '○', rover: '█', front: '▲', ahead: '│', aheadEnd: '┬', bar: '├─┤' },
  ascii: { vouched: '.', unknown: '/', open: 'o', rover: '@', front: '^', ahead: '|', aheadEnd: 'T', bar: '|-|' },
} as const;
/** Stands for an obstacle's edge where one character must do. */
export const MET = { unicode: '⣶', ascii: '#' } as const;

/** m, the radii that the zoom steps through. */
export const RADII: readonly number[] = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 25];

/**
 * The rover in the middle, ahead is up: what is vouched for, where it ends and at what, and what is unknown.
 * @returns `rows` rows of `columns` cells.
 */
export function drawPlan(scene: Scene, columns: number, rows: number, isUnicode: boolean): Cell[][] {
  const sheet = new Sheet(scene, columns, rows);
  const signs = isUnicode ? SIGNS.unicode : SIGNS.ascii;
  const cells: Cell[][] = [];
  for (let row = 0; row < rows; row++) {
    cells.push(Array.from({ length: columns }, (_, column) => sheet.cell(column, row, isUnicode)));
  }
  drawAhead(cells, sheet, scene, signs);
  const { column, row } = sheet.cellOf(0, 0);
  if (cells[row]?.[column] !== undefined) cells[row][column] = { glyph: signs.front, ground: 'rover' };
  drawScale(cells, sheet, signs.bar);
  return cells;
}

/** @returns the radius that shows nine tenths of what is vouched for; the one before while it serves, so that nothing jumps. */
export function fitRadius(clearance: Clearance | undefined, before: number): number {
  const lengths = (clearance?.leewayM ?? []).filter((length) => length > 0).sort((a, b) => a - b);
  if (lengths.length === 0) return before;
  const want = 1.1 * lengths[Math.floor(lengths.length * 0.9)] + 0.3;
  if (want <= before && want >= 0.5 * before) return before;
  return RADII.find((radius) => radius >= want) ?? RADII[RADII.length - 1];
}

/** What a dot can be; the drawn kinds of {@link Ground}, by number. */
const DOT = { away: 0, vouched: 1, unknown: 2, met: 3, open: 4, rover: 5 } as const;

/** The ground of every dot, row by row, and what characters make of them. Plain columns: five times a second some 20,000 dots. */
class Sheet {
  /** m between two dots, the same across and down. */
  readonly pitch: number;
  readonly #width: number; // dots
  readonly #middle: { readonly column: number; readonly row: number };
  readonly #distance: Float64Array; // m from the outline, 0 inside
  readonly #sector: Int32Array;
  readonly #ground: Uint8Array;

  constructor({ clearance, outline, radius }: Scene, columns: number, rows: number) {
    this.#width = columns * DOTS.across;
    this.#middle = { column: Math.floor(columns / 2), row: Math.floor(rows / 2) };
    const height = rows * DOTS.down;
    this.pitch = radius / (Math.min(this.#width, height) / 2);
    this.#distance = new Float64Array(this.#width * height);
    this.#sector = new Int32Array(this.#width * height);
    const count = clearance?.state.length ?? 0;
    const fields = new Uint8Array(this.#width * height).fill(DOT.unknown);
    for (let i = 0; i < fields.length; i++) {
      // the rover's origin is the middle of the middle cell
      const x = ((this.#middle.row + 0.5) * DOTS.down - Math.floor(i / this.#width) - 0.5) * this.pitch;
      const y = ((this.#middle.column + 0.5) * DOTS.across - (i % this.#width) - 0.5) * this.pitch;
      const distance = distanceFrom(outline, x, y);
      this.#distance[i] = distance;
      if (distance === 0) fields[i] = DOT.rover;
      else if (clearance !== undefined && count > 0) {
        const turn = (Math.atan2(y, x) - clearance.firstBearingRad) / (2 * Math.PI);
        const k = Math.floor((turn - Math.floor(turn)) * count) % count;
        this.#sector[i] = k;
        if (clearance.state[k] !== 'unknown') fields[i] = distance <= clearance.leewayM[k] ? DOT.vouched : DOT.away;
      }
    }
    this.#ground = fields.slice();
    if (clearance !== undefined) this.#drawEdges(clearance, fields);
  }

  /** @returns the cell that a place in rover axes falls in; perhaps outside the sheet. */
  cellOf(x: number, y: number): { readonly column: number; readonly row: number } {
    return {
      column: this.#middle.column + Math.round(-y / (this.pitch * DOTS.across)),
      row: this.#middle.row + Math.round(-x / (this.pitch * DOTS.down)),
    };
  }

  cell(column: number, row: number, isUnicode: boolean): Cell {
    const count = [0, 0, 0, 0, 0, 0];
    let bits = 0;
    for (let dot = 0; dot < DOT_BITS.length; dot++) {
      const y = row * DOTS.down + Math.floor(dot / DOTS.across);
      const ground = this.#ground[y * this.#width + column * DOTS.across + (dot % DOTS.across)];
      count[ground]++;
      if (ground === DOT.met) bits |= DOT_BITS[dot];
    }
    const [away, vouched, unknown, met, open, rover] = count;
    const signs = isUnicode ? SIGNS.unicode : SIGNS.ascii;
    if (rover >= DOT_BITS.length / 2) return { glyph: signs.rover, ground: 'rover' };
    if (met > 0) return { glyph: isUnicode ? String.fromCodePoint(BRAILLE + bits) : MET.ascii, ground: 'met' };
    if (open > 1) return { glyph: signs.open, ground: 'open' };
    if (unknown > 0 && unknown >= vouched && unknown >= away) return { glyph: signs.unknown, ground: 'unknown' };
    if (vouched + open + rover > away) return { glyph: signs.vouched, ground: 'vouched' };
    return { glyph: ' ', ground: 'away' };
  }

  /** Where what is vouched for ends. At an obstacle both sides of the line, so that it is two dots thick; at the unknown none. */
  #drawEdges({ state, leewayM }: Clearance, fields: Uint8Array): void {
    const beside = [-1, 1, -this.#width, this.#width];
    for (let i = 0; i < fields.length; i++) {
      if (fields[i] !== DOT.vouched) continue;
      for (const step of beside) {
        const j = i + step;
        if (
          fields[j] !== DOT.away ||
          (Math.abs(step) === 1 && Math.floor(i / this.#width) !== Math.floor(j / this.#width))
        )
          continue;
        const k = this.#sector[j]; // the sector that ends here
        if (!isEnd(this.#distance[j], leewayM[k], this.pitch)) continue;
        const isMet = state[k] === 'obstacle';
        if (isMet) this.#ground[i] = this.#ground[j] = DOT.met;
        else if (this.#ground[i] !== DOT.met) this.#ground[i] = DOT.open;
      }
    }
  }
}

/** A step between two sectors is an end where it is no steeper than a wall seen aslant; else nothing is known to stand along it. */
function isEnd(distance: number, leeway: number, pitch: number): boolean {
  return leeway > 0 && distance - leeway <= Math.max(2 * pitch, SLANT * distance);
}

/** @returns m, shortest distance from the outline to the point; 0 inside, and by one without corners Infinity. */
function distanceFrom(outline: readonly Point[], px: number, py: number): number {
  let least = Infinity;
  let isInside = false;
  for (let i = 0; i < outline.length; i++) {
    const a = outline[i];
    const b = outline[(i + 1) % outline.length];
    const ex = b.xM - a.xM;
    const ey = b.yM - a.yM;
    const length = ex * ex + ey * ey;
    const along = length > 0 ? Math.min(1, Math.max(0, ((px - a.xM) * ex + (py - a.yM) * ey) / length)) : 0;
    least = Math.min(least, Math.hypot(px - a.xM - along * ex, py - a.yM - along * ey));
    if (a.yM > py !== b.yM > py && px < a.xM + ((py - a.yM) * ex) / ey) isInside = !isInside;
  }
  return isInside ? 0 : least;
}

type Signs = (typeof SIGNS)['unicode'] | (typeof SIGNS)['ascii'];

/** A line from the rover's front as far as it may go straight on. */
function drawAhead(cells: Cell[][], sheet: Sheet, { clearance, outline }: Scene, signs: Signs): void {
  const ahead = clearance?.aheadM ?? 0;
  if (!(ahead > 0) || outline.length === 0) return;
  const front = Math.max(...outline.map(({ xM }) => xM));
  const { column, row: from } = sheet.cellOf(front, 0);
  const { row: end } = sheet.cellOf(front + ahead, 0);
  for (let row = Math.max(0, end); row < from; row++) {
    if (cells[row]?.[column]?.ground !== 'vouched') continue;
    cells[row][column] = { glyph: row === end ? signs.aheadEnd : signs.ahead, ground: 'ahead' };
  }
}

/** A bar of a round length in the lower left corner. */
function drawScale(cells: Cell[][], sheet: Sheet, bar: string): void {
  const cell = sheet.pitch * DOTS.across;
  const length = BAR_LENGTHS.find((each) => each / cell >= BAR_CELLS);
  const last = cells[cells.length - 1];
  if (length === undefined || last === undefined) return;
  const text = `${bar[0]}${bar[1].repeat(Math.max(1, Math.round(length / cell) - 2))}${bar[2]} ${length} m `;
  if (text.length > last.length) return;
  for (const [i, glyph] of [...text].entries()) last[i] = { glyph, ground: 'scale' };
}
