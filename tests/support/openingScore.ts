import type { OpeningShape } from '../../src/perception/shapes/openings.js';
import type { TrueHit, World, WorldSweep } from './worlds.js';

type Face = readonly [number, number, number, number];

/** A doorway of a world: two short faces of walls that face each other. */
interface Door {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  /** The faces around either side. */
  readonly sides: readonly [ReadonlySet<number>, ReadonlySet<number>];
  /** From side to side, through the middle of both faces. */
  readonly chord: Face;
}

export interface OpeningScore {
  required: number;
  found: number;
  told: number;
  wrong: number;
  /** m, errors of width of the found ones, and the same in their own standard deviations. */
  readonly errors: number[];
  readonly scaled: number[];
}

/** m, a matched opening's middle lies this near to the doorway's. */
const NEAR = 0.3;
/** m, an opening's end lies this near to something, and its chord is free but for this much at both ends. */
const END = 0.15;
/** Echoes on either side and through the doorway from which it must be found. */
const ECHOES = 4;

/** @param faces every face of the world by its id. */
export function doorsOf(faces: ReadonlyMap<number, Face>): Door[] {
  const short = [...faces].filter(([, p]) => Math.hypot(p[2] - p[0], p[3] - p[1]) < 0.3);
  const doors: Door[] = [];
  for (const [a, p] of short) {
    for (const [b, q] of short) {
      if (b <= a) continue;
      const chord: Face = [(p[0] + p[2]) / 2, (p[1] + p[3]) / 2, (q[0] + q[2]) / 2, (q[1] + q[3]) / 2];
      const width = Math.hypot(chord[2] - chord[0], chord[3] - chord[1]);
      const across = Math.abs((chord[2] - chord[0]) * (p[2] - p[0]) + (chord[3] - chord[1]) * (p[3] - p[1]));
      if (width < 0.6 || width > 1.5 || across > 1e-6) continue;
      const sides = [a, b].map(
        (id) => new Set([...faces].filter(([, f]) => touches(faces.get(id) as Face, f)).map(([k]) => k)),
      );
      doors.push({
        x: (chord[0] + chord[2]) / 2,
        y: (chord[1] + chord[3]) / 2,
        width,
        sides: sides as unknown as Door['sides'],
        chord,
      });
    }
  }
  return doors;
}

/** Scores the openings of one sweep, given in the sensor's frame at the middle of the sweep. */
export function scoreOpenings(
  world: World,
  sweep: WorldSweep,
  doors: readonly Door[],
  openings: readonly OpeningShape[],
  score: OpeningScore,
): void {
  const [px, py, heading] = sweep.truth.pose[4];
  const c = Math.cos(heading);
  const s = Math.sin(heading);
  const told = openings.map((o) => ({
    chord: [
      px + c * o.x1 - s * o.y1,
      py + s * o.x1 + c * o.y1,
      px + c * o.x2 - s * o.y2,
      py + s * o.x2 + c * o.y2,
    ] as Face,
    opening: o,
  }));
  const hits = world.hits(sweep);
  for (const door of doors) {
    // somebody in the doorway makes other, narrower gaps of it
    if (sweep.truth.circles.some((m) => Math.hypot(m[1] - door.x, m[2] - door.y) < door.width)) continue;
    const match = told.find(({ chord }) => isNear(chord, door));
    const required = isSeen(world, sweep, hits, door);
    if (required) score.required++;
    if (match === undefined) continue;
    if (required) score.found++;
    score.errors.push(match.opening.width - door.width);
    score.scaled.push((match.opening.width - door.width) / match.opening.widthSd);
  }
  const movers: Array<readonly [number, number, number]> = sweep.truth.circles.map((m) => [m[1], m[2], m[3]]);
  for (const { chord } of told) {
    score.told++;
    if (doors.some((door) => isNear(chord, door))) continue;
    if (!isFree(world, movers, chord)) score.wrong++;
  }
}

const isNear = (chord: Face, door: Door): boolean =>
  Math.hypot((chord[0] + chord[2]) / 2 - door.x, (chord[1] + chord[3]) / 2 - door.y) < NEAR;

/** Whether both sides were met and the doorway looked through by neighbouring beams. */
function isSeen(world: World, sweep: WorldSweep, hits: readonly TrueHit[], door: Door): boolean {
  const n = hits.length;
  const through: boolean[] = hits.map((hit, i) => {
    if (!(sweep.ranges[i] > 0) || hit.isMixed) return false;
    const [x, y] = world.pose(sweep, i);
    return crosses([x, y, hit.x, hit.y], door.chord) && distance(door.chord, hit.x, hit.y) > 0.3;
  });
  const sideOf = (i: number): number =>
    sweep.ranges[i] > 0 ? door.sides.findIndex((side) => side.has(hits[i].id)) : -1;
  const counts = [0, 0];
  for (let i = 0; i < n; i++) {
    const side = sideOf(i);
    if (side >= 0 && distance(door.chord, hits[i].x, hits[i].y) < 1) counts[side]++;
  }
  const first = through.findIndex((open, i) => open && !through[(i + n - 1) % n]);
  if (first < 0 || Math.min(...counts) < ECHOES) return false;
  let last = first;
  for (let step = 1; step < n / 2; step++) if (through[(first + step) % n]) last = first + step;
  const run = last - first + 1;
  let open = 0;
  for (let k = first; k <= last; k++) if (through[k % n]) open++;
  const before = sideOf((first + n - 1) % n);
  const after = sideOf((last + 1) % n);
  return open >= ECHOES && open >= run - 2 && before >= 0 && after >= 0 && before !== after;
}

/** Whether a chord's ends are at something and nothing fixed or moving stands in it. */
function isFree(world: World, movers: ReadonlyArray<readonly [number, number, number]>, chord: Face): boolean {
  const length = Math.hypot(chord[2] - chord[0], chord[3] - chord[1]);
  const ux = (chord[2] - chord[0]) / length;
  const uy = (chord[3] - chord[1]) / length;
  const inner: Face = [chord[0] + END * ux, chord[1] + END * uy, chord[2] - END * ux, chord[3] - END * uy];
  const faces = [...world.faces.values()];
  const circles = [...world.circles.values(), ...movers];
  if (faces.some((face) => crosses(inner, face))) return false;
  if (circles.some(([x, y, r]) => distance(inner, x, y) < r)) return false;
  return [0, 2].every(
    (k) =>
      faces.some((face) => distance(face, chord[k], chord[k + 1]) < END) ||
      circles.some(([x, y, r]) => Math.abs(Math.hypot(x - chord[k], y - chord[k + 1]) - r) < END),
  );
}

const touches = (a: Face, b: Face): boolean =>
  [0, 2].some((i) => [0, 2].some((j) => Math.hypot(a[i] - b[j], a[i + 1] - b[j + 1]) < 1e-6)) ||
  [0, 2].some((i) => distance(b, a[i], a[i + 1]) < 1e-6);

function distance(face: Face, x: number, y: number): number {
  const dx = face[2] - face[0];
  const dy = face[3] - face[1];
  const u = Math.min(1, Math.max(0, ((x - face[0]) * dx + (y - face[1]) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(x - face[0] - u * dx, y - face[1] - u * dy);
}

function crosses(a: Face, b: Face): boolean {
  const side = (f: Face, x: number, y: number): number => (f[2] - f[0]) * (y - f[1]) - (f[3] - f[1]) * (x - f[0]);
  return side(a, b[0], b[1]) * side(a, b[2], b[3]) < 0 && side(b, a[0], a[1]) * side(b, a[2], a[3]) < 0;
}
