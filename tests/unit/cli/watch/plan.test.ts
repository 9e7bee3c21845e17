// The plan is compared with plane geometry: where a place lies on the sheet follows from the radius and the size alone.
import { describe, expect, test } from 'vitest';
import { type Cell, drawPlan, fitRadius, type Ground, MET, RADII, SIGNS } from '../../../../src/cli/watch/plan.js';
import { AISLE, clearanceOf, OUTLINE } from '../../../support/watched.js';

/** A sheet of `columns` by `rows` characters, each 2 dots across and 4 down, and what is at a place in rover axes, m. */
function sheet(scene: Parameters<typeof drawPlan>[0], columns: number, rows: number, isUnicode = true) {
  const cells = drawPlan(scene, columns, rows, isUnicode);
  const dot = scene.radius / (Math.min(columns * 2, rows * 4) / 2);
  const at = (x: number, y: number): Cell =>
    cells[Math.floor(rows / 2) - Math.round(x / (4 * dot))][Math.floor(columns / 2) - Math.round(y / (2 * dot))];
  return { cells, at };
}
const scene = { clearance: AISLE, outline: OUTLINE, radius: 4 };

describe.each([
  { columns: 45, rows: 18 },
  { columns: 69, rows: 34 },
])('an aisle on $columns x $rows', ({ columns, rows }) => {
  const { at, cells } = sheet(scene, columns, rows);
  test('fills the sheet', () => {
    expect(cells.map((row) => row.length)).toEqual(Array(rows).fill(columns));
  });
  test.each<[string, number, number, Ground]>([
    ['the rover', 0, 0, 'rover'],
    ['a metre to the right', 0, -1, 'vouched'],
    ['a metre ahead: the way straight on', 1, 0, 'ahead'],
    ['beside that way', 1.1, -0.6, 'vouched'],
    ['what stands 2 m before the front', 2.2, -0.5, 'met'],
    ['behind it', 3.2, -0.3, 'away'],
    ['left, where nothing was seen', 0, 2, 'unknown'],
    ['left and far: unknown has no end', 0, 3.7, 'unknown'],
    ['where evidence ends without an echo, behind', -3.15, 0, 'open'],
  ])('%s', (_, x, y, ground) => {
    expect(at(x, y).ground).toBe(ground);
  });
  test('the way straight on ends at ahead_m', () => {
    const end = cells.flat().filter(({ glyph }) => glyph === SIGNS.unicode.aheadEnd);
    expect(end).toHaveLength(1);
    expect(at(0.2 + 1.2, 0).glyph).toBe(SIGNS.unicode.aheadEnd);
  });
});

describe('told apart without colour', () => {
  test.each(['unicode', 'ascii'] as const)('every sign differs: %s', (kind) => {
    const { bar: _, ...signs } = SIGNS[kind];
    const all = [...Object.values(signs), MET[kind], ' '];
    expect(new Set(all).size).toBe(all.length);
  });
  test('an obstacle in braille, which nothing else uses', () => {
    const { cells } = sheet(scene, 45, 18);
    for (const { glyph, ground } of cells.flat()) expect(/[⠁-⣿]/.test(glyph)).toBe(ground === 'met');
  });
  test('ASCII alone', () => {
    const { cells, at } = sheet(scene, 45, 18, false);
    expect(cells.flat().every(({ glyph }) => /^[ -~]$/.test(glyph))).toBe(true);
    expect([at(2.2, -0.5), at(-3.15, 0), at(0, 2), at(0, -1), at(3.2, -0.3)].map(({ glyph }) => glyph)).toEqual([
      ...['#', 'o', '/', '.', ' '],
    ]);
  });
});

describe('unknown is never clear', () => {
  const grounds = (clearance: typeof AISLE | undefined): Set<Ground> =>
    new Set(
      drawPlan({ ...scene, clearance }, 45, 18, true)
        .flat()
        .map(({ ground }) => ground),
    );
  test('without a clearance all is unknown', () => {
    expect(grounds(undefined)).toEqual(new Set(['unknown', 'rover', 'scale']));
  });
  test('a clearance without sectors, too', () => {
    expect(grounds({ ...AISLE, state: [], leewayM: [] })).toEqual(new Set(['unknown', 'rover', 'scale']));
  });
  test('a sector that is seen but vouches for nothing is neither free nor an edge', () => {
    const none = clearanceOf(() => ({ state: 'obstacle', leeway: 0 }));
    expect(grounds(none)).toEqual(new Set(['away', 'rover', 'scale']));
    expect(grounds({ ...none, leewayM: none.leewayM.map(() => Number.NaN) })).toEqual(
      new Set(['away', 'rover', 'scale']),
    );
  });
  test('no outline: nothing can be vouched for', () => {
    const { cells } = sheet({ ...scene, outline: [] }, 45, 18);
    expect(cells.flat().some(({ ground }) => ground === 'vouched')).toBe(false);
  });
  test('a single unknown sector shows among clear ones', () => {
    const one = clearanceOf((bearing) =>
      Math.abs(bearing + Math.PI / 2) < 0.05 ? { state: 'unknown', leeway: 0 } : { state: 'clear', leeway: 3.9 },
    );
    expect(sheet({ ...scene, clearance: one }, 69, 34).at(0, -3).ground).toBe('unknown');
  });
});

test('a step between a near and a far sector is no wall', () => {
  const step = clearanceOf((bearing) => ({ state: 'obstacle', leeway: bearing > 0 ? 1 : 3 }));
  const { at } = sheet({ ...scene, clearance: step }, 69, 34);
  expect(at(1.2, 0.3).ground).toBe('met');
  expect(at(3.2, -0.5).ground).toBe('met');
  for (const x of [1.9, 2.2, 2.5]) expect(['vouched', 'away']).toContain(at(x, 0.1).ground);
});

test('the bar of the scale is as long as it says', () => {
  for (const radius of RADII) {
    const { cells } = sheet({ ...scene, radius }, 45, 18);
    const text = cells[17].map(({ glyph }) => glyph).join('');
    const [, bar, length] = /^(├─+┤) ([\d.]+) m/.exec(text) ?? [];
    const cell = (2 * radius) / 36; // m: 36 dots from the middle to the nearer edge, two a character
    expect(Math.abs(bar.length * cell - Number(length))).toBeLessThanOrEqual(cell);
  }
});

describe('fit', () => {
  const room = (leeway: number) => clearanceOf(() => ({ state: 'obstacle', leeway }));
  test.each([0.5, 1, 2.3, 5, 11])('%s m all around fit on the sheet, and fill half of it', (leeway) => {
    const radius = fitRadius(room(leeway), 25);
    expect(radius).toBeGreaterThan(leeway);
    expect(radius).toBeLessThanOrEqual(2 * leeway + 0.6);
  });
  test('stays where it is while that serves', () => {
    expect(fitRadius(room(2), 4)).toBe(4);
    expect(fitRadius(undefined, 6)).toBe(6);
    expect(fitRadius(room(0), 6)).toBe(6);
  });
});
