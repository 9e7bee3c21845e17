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

/** The ground of every dot, and what characters make of them. */
class Sheet {
  /** m between two dots, the same across and down. */
  readonly pitch: number;
  readonly #columns: number;
  readonly #rows: number;
  readonly #ground: Ground[];

  constructor(scene: Scene, columns: number, rows: number) {
    this.#columns = columns;
    this.#rows = rows;
    this.pitch = scene.radius / (Math.min(columns * DOTS.across, rows * DOTS.down) / 2);
    const fields: Ground[] = [];
    for (let y = 0; y < rows * DOTS.down; y++) {
      for (let x = 0; x < columns * DOTS.across; x++) {
        const place = this.#place(x, y);
        fields.push(groundAt(scene, place.x, place.y));
      }
    }
    this.#ground = fields.map((ground, i) => this.#edge(scene, fields, ground, i));
  }

  /** @returns the cell that a place in rover axes falls in; perhaps outside the sheet. */
  cellOf(x: number, y: number): { readonly column: number; readonly row: number } {
    const { column, row } = this.#middle();
    return {
      column: column + Math.round(-y / (this.pitch * DOTS.across)),
      row: row + Math.round(-x / (this.pitch * DOTS.down)),
    };
  }

  cell(column: number, row: number, isUnicode: boolean): Cell {
    const count = { away: 0, vouched: 0, unknown: 0, met: 0, open: 0, rover: 0 };
    let bits = 0;
    for (let dot = 0; dot < DOT_BITS.length; dot++) {
      const x = column * DOTS.across + (dot % DOTS.across);
      const y = row * DOTS.down + Math.floor(dot / DOTS.across);
      const ground = this.#ground[y * this.#columns * DOTS.across + x];
      if (ground in count) count[ground as keyof typeof count]++;
      if (ground === 'met') bits |= DOT_BITS[dot];
    }
    const signs = isUnicode ? SIGNS.unicode : SIGNS.ascii;
    if (count.rover >= DOT_BITS.length / 2) return { glyph: signs.rover, ground: 'rover' };
    if (count.met > 0) return { glyph: isUnicode ? String.fromCodePoint(BRAILLE + bits) : MET.ascii, ground: 'met' };
    if (count.open > 1) return { glyph: signs.open, ground: 'open' };
    if (count.unknown > 0 && count.unknown >= count.vouched && count.unknown >= count.away)
      return { glyph: signs.unknown, ground: 'unknown' };
    if (count.vouched + count.open + count.rover > count.away) return { glyph: signs.vouched, ground: 'vouched' };
    return { glyph: ' ', ground: 'away' };
  }

  #middle(): { readonly column: number; readonly row: number } {
    return { column: Math.floor(this.#columns / 2), row: Math.floor(this.#rows / 2) };
  }

  /** @returns m, rover axes, of the middle of a dot. The rover's origin is the middle of the middle cell. */
  #place(x: number, y: number): { readonly x: number; readonly y: number } {
    const { column, row } = this.#middle();
    return {
      x: ((row + 0.5) * DOTS.down - y - 0.5) * this.pitch,
      y: ((column + 0.5) * DOTS.across - x - 0.5) * this.pitch,
    };
  }

  /** Both sides of the line where what is vouched for ends, so that it is two dots thick; where it meets the unknown there is none. */
  #edge(scene: Scene, fields: readonly Ground[], ground: Ground, i: number): Ground {
    if (ground !== 'vouched' && ground !== 'away') return ground;
    const width = this.#columns * DOTS.across;
    const x = i % width;
    const other: Ground = ground === 'vouched' ? 'away' : 'vouched';
    const beside = [
      ...(x > 0 ? [i - 1] : []),
      ...(x < width - 1 ? [i + 1] : []),
      ...(i >= width ? [i - width] : []),
      ...(i + width < fields.length ? [i + width] : []),
    ];
    const across = beside.find((j) => fields[j] === other);
    if (across === undefined) return ground;
    const outside = ground === 'vouched' ? across : i; // its sector is the one that ends here
    const place = this.#place(outside % width, Math.floor(outside / width));
    const { state, leeway } = stateAt(scene.clearance, place.x, place.y);
    if (!isEnd(distanceFrom(scene.outline, place.x, place.y), leeway, this.pitch)) return ground;
    const isMet = state === 'obstacle';
    return isMet ? 'met' : ground === 'vouched' ? 'open' : 'away';
  }
}

/** A step between two sectors is an end where it is no steeper than a wall seen aslant; else nothing is known to stand along it. */
function isEnd(distance: number, leeway: number, pitch: number): boolean {
  return leeway > 0 && distance - leeway <= Math.max(2 * pitch, SLANT * distance);
}

function groundAt({ clearance, outline }: Scene, x: number, y: number): Ground {
  const distance = distanceFrom(outline, x, y);
  if (distance === 0) return 'rover';
  const { state, leeway } = stateAt(clearance, x, y);
  if (state === 'unknown') return 'unknown';
  return distance <= leeway ? 'vouched' : 'away';
}

function stateAt(
  clearance: Clearance | undefined,
  x: number,
  y: number,
): { readonly state: 'unknown' | 'clear' | 'obstacle'; readonly leeway: number } {
  const count = clearance?.state.length ?? 0;
  if (clearance === undefined || count === 0) return { state: 'unknown', leeway: 0 };
  const turn = (Math.atan2(y, x) - clearance.firstBearingRad) / (2 * Math.PI);
  const k = Math.floor((turn - Math.floor(turn)) * count) % count;
  return { state: clearance.state[k], leeway: clearance.leewayM[k] ?? 0 };
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
