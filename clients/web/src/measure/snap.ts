import type { Corner, Wall } from '../../../typescript/src/client.js';
import { toWorld, wrapAngle } from '../geometry.js';
import type { Model } from '../model.js';
import type { View } from '../sheet/view.js';

/** What a measured point stands on. */
export type Hold = 'wall' | 'corner' | 'echo' | 'open';

/** A point of the world and what it stands on; a wall's line goes along so that the wall is found again. */
export interface Spot {
  hold: Hold;
  /** World, m. */
  x: number;
  y: number;
  /** World line of the wall: x cos(normal) + y sin(normal) = distance. */
  normal: number;
  distance: number;
}

const at = { x: 0, y: 0 };
const SAME_ANGLE = 0.21; // rad, 12 degrees: between two sweeps nothing turns farther
const SAME_DISTANCE = 0.25; // m
const SAME_CORNER = 0.3; // m

/**
 * @param reach px within which a thing draws the point to itself: corner before wall before echo.
 * @returns the spot meant by a point of the sheet.
 */
export function snap(model: Model, view: View, sx: number, sy: number, reach: number): Spot {
  view.toWorld(sx, sy);
  const open: Spot = { hold: 'open', x: view.wx, y: view.wy, normal: 0, distance: 0 };
  return (
    nearCorner(model, view, sx, sy, reach) ??
    nearWall(model, view, open, reach) ??
    nearEcho(model, view, open, reach) ??
    open
  );
}

function nearCorner(model: Model, view: View, sx: number, sy: number, reach: number): Spot | undefined {
  let best: Spot | undefined;
  let least = reach;
  for (const corner of model.shapes?.corners ?? []) {
    toWorld(model.pose, corner.xM, corner.yM, at);
    view.toScreen(at.x, at.y);
    const away = Math.hypot(view.sx - sx, view.sy - sy);
    if (away > least) continue;
    least = away;
    best = { hold: 'corner', x: at.x, y: at.y, normal: 0, distance: 0 };
  }
  return best;
}

function nearWall(model: Model, view: View, point: Spot, reach: number): Spot | undefined {
  let best: Spot | undefined;
  let least = reach / view.pxPerM;
  for (const wall of model.shapes?.walls ?? []) {
    const line = worldLine(model, wall);
    const off = point.x * Math.cos(line.normal) + point.y * Math.sin(line.normal) - line.distance;
    const x = point.x - off * Math.cos(line.normal);
    const y = point.y - off * Math.sin(line.normal);
    if (Math.abs(off) > least || !isBeside(model, wall, x, y, least)) continue;
    least = Math.abs(off);
    best = { hold: 'wall', x, y, ...line };
  }
  return best;
}

/** @returns whether a world point on the wall's line lies between its ends, or at most `slack` beyond. */
function isBeside(model: Model, wall: Wall, x: number, y: number, slack: number): boolean {
  toWorld(model.pose, wall.x1M, wall.y1M, at);
  const ax = at.x;
  const ay = at.y;
  toWorld(model.pose, wall.x2M, wall.y2M, at);
  const length = Math.hypot(at.x - ax, at.y - ay);
  const along = ((x - ax) * (at.x - ax) + (y - ay) * (at.y - ay)) / length;
  return along >= -slack && along <= length + slack;
}

function nearEcho(model: Model, view: View, point: Spot, reach: number): Spot | undefined {
  let best: Spot | undefined;
  let least = reach / view.pxPerM;
  for (let i = 0; i < model.echoCount; i++) {
    toWorld(model.pose, model.echoes[2 * i], model.echoes[2 * i + 1], at);
    const away = Math.hypot(at.x - point.x, at.y - point.y);
    if (away > least) continue;
    least = away;
    best = { hold: 'echo', x: at.x, y: at.y, normal: 0, distance: 0 };
  }
  return best;
}

/** @returns the wall's line in the world. */
function worldLine(model: Model, wall: Wall): { normal: number; distance: number } {
  const normal = wrapAngle(wall.normalRad + model.pose.heading);
  return {
    normal,
    distance: wall.distanceM + model.pose.x * Math.cos(normal) + model.pose.y * Math.sin(normal),
  };
}

/** @returns the wall that a spot stands on, in the newest shapes; undefined where it is not seen. */
export function wallAt(model: Model, spot: Spot): Wall | undefined {
  let best: Wall | undefined;
  let least = Infinity;
  for (const wall of model.shapes?.walls ?? []) {
    const line = worldLine(model, wall);
    const turned = Math.abs(wrapAngle(line.normal - spot.normal));
    const off = Math.abs(spot.x * Math.cos(line.normal) + spot.y * Math.sin(line.normal) - line.distance);
    if (turned > SAME_ANGLE || off > SAME_DISTANCE || !isBeside(model, wall, spot.x, spot.y, 0.5)) continue;
    const cost = turned + off;
    if (cost >= least) continue;
    least = cost;
    best = wall;
  }
  return best;
}

/** @returns the corner that a spot stands on, in the newest shapes; undefined where it is not seen. */
export function cornerAt(model: Model, spot: Spot): Corner | undefined {
  let best: Corner | undefined;
  let least = SAME_CORNER;
  for (const corner of model.shapes?.corners ?? []) {
    toWorld(model.pose, corner.xM, corner.yM, at);
    const away = Math.hypot(at.x - spot.x, at.y - spot.y);
    if (away > least) continue;
    least = away;
    best = corner;
  }
  return best;
}

/** Moves a spot to where the thing it stands on is seen now. @returns whether it is seen. */
export function follow(model: Model, spot: Spot): boolean {
  if (spot.hold === 'corner') {
    const corner = cornerAt(model, spot);
    if (corner === undefined) return false;
    toWorld(model.pose, corner.xM, corner.yM, at);
    spot.x = at.x;
    spot.y = at.y;
    return true;
  }
  if (spot.hold !== 'wall') return false;
  const wall = wallAt(model, spot);
  if (wall === undefined) return false;
  const line = worldLine(model, wall);
  const off = spot.x * Math.cos(line.normal) + spot.y * Math.sin(line.normal) - line.distance;
  spot.x -= off * Math.cos(line.normal);
  spot.y -= off * Math.sin(line.normal);
  spot.normal = line.normal;
  spot.distance = line.distance;
  return true;
}
