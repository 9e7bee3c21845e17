import type { Clearance } from '../../../typescript/src/client.js';
import { toWorld } from '../geometry.js';
import { type Model, PIECES } from '../model.js';
import type { Ink } from './ink.js';
import type { View } from './view.js';

/** A stretch of bearings about the sensor that the rover's own body hides: rad, m, rover axes. */
export interface Mask {
  readonly fromRad: number;
  readonly toRad: number;
  readonly upToM: number;
}

type Context = CanvasRenderingContext2D;
const at = { x: 0, y: 0 };

/** Goes to the i-th point of a column of rover axes. */
function put(context: Context, view: View, model: Model, column: Float32Array, i: number, isFirst: boolean): void {
  toWorld(model.pose, column[2 * i], column[2 * i + 1], at);
  view.toScreen(at.x, at.y);
  if (isFirst) context.moveTo(view.sx, view.sy);
  else context.lineTo(view.sx, view.sy);
}

/** The ground under all: hatched over and over, so that what draws nothing leaves hatch and never clear floor. */
export function drawBase(context: Context, width: number, height: number, ink: Ink, isBlind: boolean): void {
  context.fillStyle = ink.film;
  context.fillRect(0, 0, width, height);
  context.globalAlpha = isBlind ? 0.8 : 1;
  context.fillStyle = isBlind ? ink.blind : ink.away;
  context.fillRect(0, 0, width, height);
  context.globalAlpha = 1;
}

/** Sectors: unknown ones hatched heavily out to the sheet's edge, the others washed as far as is vouched for, with a stepped edge. */
export function drawSectors(context: Context, view: View, model: Model, ink: Ink): void {
  const { clearance } = model;
  if (clearance === undefined || model.edge.length === 0) return;
  drawUnknown(context, view, model, ink);
  drawLeeway(context, view, model, ink);
  drawEdge(context, view, model, ink);
}

function drawUnknown(context: Context, view: View, model: Model, ink: Ink): void {
  const { clearance, inner } = model;
  if (clearance === undefined) return;
  const count = clearance.state.length;
  const far =
    (view.width + view.height + Math.hypot(view.x - model.pose.x, view.y - model.pose.y) * view.pxPerM) / view.pxPerM;
  let some = 0;
  context.beginPath();
  for (let k = 0; k < count; k++) {
    if (clearance.state[k] !== 'unknown') continue;
    some++;
    // neighbours are drawn as one piece: no seam between them
    const first = k;
    while (k + 1 < count && clearance.state[k + 1] === 'unknown') k++;
    for (let j = first; j <= k; j++)
      for (let i = 0; i <= PIECES; i++) {
        const bearing = clearance.firstBearingRad + ((j + i / PIECES) / count) * 2 * Math.PI;
        toWorld(model.pose, far * Math.cos(bearing), far * Math.sin(bearing), at);
        view.toScreen(at.x, at.y);
        if (j === first && i === 0) context.moveTo(view.sx, view.sy);
        else context.lineTo(view.sx, view.sy);
      }
    for (let j = (k + 1) * (PIECES + 1) - 1; j >= first * (PIECES + 1); j--) put(context, view, model, inner, j, false);
    context.closePath();
  }
  if (some === 0) return;
  context.fillStyle = ink.film;
  context.fill();
  hatch(context, ink.unknown);
}

function drawLeeway(context: Context, view: View, model: Model, ink: Ink): void {
  const { clearance, edge, inner } = model;
  if (clearance === undefined) return;
  const count = clearance.state.length;
  const stale = model.health !== undefined && model.health.spinHz > 0 ? 2 / model.health.spinHz : 0.3;
  for (const isStale of [false, true]) {
    let some = 0;
    context.beginPath();
    for (let k = 0; k < count; k++) {
      if (!isDrawn(clearance, k, isStale, stale)) continue;
      some++;
      // neighbours are drawn as one piece: no seam between them
      const first = k;
      while (k + 1 < count && isDrawn(clearance, k + 1, isStale, stale)) k++;
      const end = (k + 1) * (PIECES + 1);
      for (let i = first * (PIECES + 1); i < end; i++) put(context, view, model, edge, i, i === first * (PIECES + 1));
      for (let i = end - 1; i >= first * (PIECES + 1); i--) put(context, view, model, inner, i, false);
      context.closePath();
    }
    if (some === 0) continue;
    if (isStale) hatch(context, ink.unknown);
    else {
      context.fillStyle = ink.wash;
      context.fill();
    }
  }
}

function isDrawn(clearance: Clearance, k: number, isStale: boolean, stale: number): boolean {
  return clearance.state[k] !== 'unknown' && clearance.leewayM[k] > 0 && (!isStale || clearance.ageS[k] > stale);
}

/** Fills the path with a hatch, pixel for pixel: smoothing it would cost more than all else of a frame. */
function hatch(context: Context, pattern: CanvasPattern | string): void {
  context.imageSmoothingEnabled = false;
  context.fillStyle = pattern;
  context.fill();
  context.imageSmoothingEnabled = true;
}

/** Never smoothed, never joined across sectors: every step is drawn. */
function drawEdge(context: Context, view: View, model: Model, ink: Ink): void {
  const { clearance, edge, inner } = model;
  if (clearance === undefined) return;
  const count = clearance.state.length;
  context.beginPath();
  for (let k = 0; k < count; k++) {
    const before = (k + count - 1) % count;
    const column = clearance.state[k] === 'unknown' ? inner : edge;
    const last = clearance.state[before] === 'unknown' ? inner : edge;
    put(context, view, model, last, before * (PIECES + 1) + PIECES, true);
    for (let i = 0; i <= PIECES; i++) put(context, view, model, column, k * (PIECES + 1) + i, false);
  }
  context.strokeStyle = ink.edge;
  context.lineWidth = 0.8 * ink.pen;
  context.stroke();
}

/** The rover's own body: dotted, with a dotted outline. @param isDraft drawn heavier: not saved yet. */
export function drawMask(context: Context, view: View, model: Model, ink: Ink, mask: Mask, isDraft: boolean): void {
  const { xM, yM } = model.mounting;
  const width = (((mask.toRad - mask.fromRad) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI) || 2 * Math.PI;
  const steps = Math.max(2, Math.ceil(width / 0.1));
  context.beginPath();
  toWorld(model.pose, xM, yM, at);
  view.toScreen(at.x, at.y);
  context.moveTo(view.sx, view.sy);
  for (let i = 0; i <= steps; i++) {
    const bearing = mask.fromRad + (width * i) / steps;
    toWorld(model.pose, xM + mask.upToM * Math.cos(bearing), yM + mask.upToM * Math.sin(bearing), at);
    view.toScreen(at.x, at.y);
    context.lineTo(view.sx, view.sy);
  }
  context.closePath();
  context.fillStyle = ink.mask;
  context.fill();
  context.strokeStyle = isDraft ? ink.ink : ink.graphite;
  context.lineWidth = (isDraft ? 1.75 : 1) * ink.pen;
  context.setLineDash(DOTTED);
  context.stroke();
  context.setLineDash(SOLID);
}

/** Dash patterns are made once: a frame allocates nothing. */
export const SOLID: number[] = [];
const DOTTED = [2, 3];
