import type { Mover } from '../../../typescript/src/client.js';
import { frontOf, nearestOn, toWorld } from '../geometry.js';
import type { Model } from '../model.js';
import { cutLength, lengthUnit, roundLength } from '../units.js';
import { SOLID } from './ground.js';
import type { Ink } from './ink.js';
import { type Labels, RANK } from './labels.js';
import type { Hand } from './lettering.js';
import type { View } from './view.js';

type Context = CanvasRenderingContext2D;
const SURE = 0.5; // confidence from which a mover is drawn
const FIRM = 0.8;
const DOT = 2.4; // px
const TRAIL_DOTS = 11;
const TRAIL = 1.8; // s
const SOON = 5; // s
const NEAR = 3; // m
const PRESSING = 3; // movers whose closest approach is drawn
const CENTRE_LINE = [14, 4, 2, 4];
const GHOST = [4, 3];

const moverHand: Hand = { size: 15, weight: 600, colour: 'mover', halo: 'wash' };
const moverSubHand: Hand = { size: 13.5, weight: 400, colour: 'mover', halo: 'wash' };
const leewayHand: Hand = { size: 15, weight: 600, colour: 'edge', halo: 'wash' };

const at = { x: 0, y: 0 };
const from = { x: 0, y: 0 };

/** The way the rover came: a draughtsman's centre line. */
export function drawPath(context: Context, view: View, model: Model, ink: Ink, isPast: boolean): void {
  const { path, pathCount, pathFirst } = model;
  if (pathCount < 2) return;
  const ring = path.length / 2;
  context.beginPath();
  for (let i = 0; i < pathCount; i++) {
    const k = (pathFirst + i) % ring;
    view.toScreen(path[2 * k], path[2 * k + 1]);
    if (i === 0) context.moveTo(view.sx, view.sy);
    else context.lineTo(view.sx, view.sy);
  }
  context.strokeStyle = ink.graphite;
  context.lineWidth = 1.4 * ink.pen;
  context.globalAlpha = isPast ? 0.6 : 1;
  context.setLineDash(CENTRE_LINE);
  context.stroke();
  context.setLineDash(SOLID);
  context.globalAlpha = 1;
}

/**
 * Echoes of the last sweep as fine dots: two bars across each other on whole pixels, round at this size. Pictures or arcs of a dot
 * took 8 ms for 1600 echoes, these take 1 ms (without a graphics processor).
 * @param scale device pixels a px.
 */
export function drawEchoes(context: Context, view: View, model: Model, ink: Ink, scale: number): void {
  const { echoes, echoCount, pose } = model;
  const long = Math.max(2, Math.round(DOT * ink.pen * scale));
  const short = long - 2 * Math.floor(long / 3);
  const inset = (long - short) / 2;
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.fillStyle = ink.graphite;
  for (let i = 0; i < echoCount; i++) {
    toWorld(pose, echoes[2 * i], echoes[2 * i + 1], at);
    view.toScreen(at.x, at.y);
    if (view.sx < 0 || view.sy < 0 || view.sx > view.width || view.sy > view.height) continue;
    const x = Math.round(view.sx * scale - long / 2);
    const y = Math.round(view.sy * scale - long / 2);
    context.fillRect(x, y + inset, long, short);
    if (short < long) context.fillRect(x + inset, y, short, long);
  }
  context.setTransform(scale, 0, 0, scale, 0, 0);
}

/** The cart: filled, to scale; an outline only where nothing is known of now. */
export function drawCart(context: Context, view: View, model: Model, ink: Ink, isPast: boolean): void {
  const { outline, pose } = model;
  if (outline.length < 3) return;
  const front = frontOf(outline);
  const speed = model.motion?.vxMps ?? 0;
  if (!isPast && Math.abs(speed) > 0.02) {
    const edge = speed > 0 ? front : -front;
    arrow(context, view, model, ink, edge, 0, edge + speed, 0, ink.ink, 2.25 * ink.pen);
  }
  traceOutline(context, view, model, pose.x, pose.y, 18 * ink.rem);
  context.fillStyle = isPast ? ink.film : ink.ink;
  context.fill();
  context.strokeStyle = ink.ink;
  context.lineWidth = 2 * ink.pen;
  context.stroke();
  context.strokeStyle = isPast ? ink.ink : ink.film;
  context.lineWidth = 1.75 * ink.pen;
  context.beginPath();
  go(context, view, model, 0.72 * front, 0.3 * front, true);
  go(context, view, model, 0.86 * front, 0, false);
  go(context, view, model, 0.72 * front, -0.3 * front, false);
  context.stroke();
  toWorld(pose, model.mounting.xM, model.mounting.yM, at);
  view.toScreen(at.x, at.y);
  context.beginPath();
  context.arc(view.sx, view.sy, 3.2 * ink.pen, 0, 2 * Math.PI);
  context.lineWidth = 1.5 * ink.pen;
  context.stroke();
}

function go(context: Context, view: View, model: Model, x: number, y: number, isFirst: boolean): void {
  toWorld(model.pose, x, y, at);
  view.toScreen(at.x, at.y);
  if (isFirst) context.moveTo(view.sx, view.sy);
  else context.lineTo(view.sx, view.sy);
}

/** The rover's outline as it would stand at a world place, turned as it is now; at least `least` px long. */
function traceOutline(context: Context, view: View, model: Model, x: number, y: number, least: number): void {
  const { outline, pose } = model;
  const grow = Math.max(1, least / (2 * frontOf(outline) * view.pxPerM));
  const c = Math.cos(pose.heading) * grow;
  const s = Math.sin(pose.heading) * grow;
  context.beginPath();
  for (let i = 0; i < outline.length; i++) {
    const { xM, yM } = outline[i];
    view.toScreen(x + xM * c - yM * s, y + xM * s + yM * c);
    if (i === 0) context.moveTo(view.sx, view.sy);
    else context.lineTo(view.sx, view.sy);
  }
  context.closePath();
}

/** From one point of the rover's axes to another, with an open head. */
function arrow(
  context: Context,
  view: View,
  model: Model,
  ink: Ink,
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  colour: string,
  width: number,
): void {
  toWorld(model.pose, x1, y1, at);
  view.toScreen(at.x, at.y);
  const sx = view.sx;
  const sy = view.sy;
  toWorld(model.pose, x2, y2, at);
  view.toScreen(at.x, at.y);
  const angle = Math.atan2(view.sy - sy, view.sx - sx);
  const head = 8 * ink.pen;
  context.beginPath();
  context.moveTo(sx, sy);
  context.lineTo(view.sx, view.sy);
  context.moveTo(view.sx - head * Math.cos(angle - 0.5), view.sy - head * Math.sin(angle - 0.5));
  context.lineTo(view.sx, view.sy);
  context.lineTo(view.sx - head * Math.cos(angle + 0.5), view.sy - head * Math.sin(angle + 0.5));
  context.strokeStyle = colour;
  context.lineWidth = width;
  context.stroke();
}

/** What moves: round, with the way it came, the way of its next second, and how near it will come. */
export function drawMovers(context: Context, view: View, model: Model, ink: Ink, dots: number): void {
  const movers = model.movers?.movers ?? [];
  for (let i = 0; i < movers.length; i++) {
    const mover = movers[i];
    if (mover.confidence < SURE) continue;
    drawTrail(context, view, model, ink, mover.id, dots);
    if (isClosing(mover) && isPressing(movers, mover)) drawClosest(context, view, model, ink, mover);
    toWorld(model.pose, mover.xM, mover.yM, at);
    view.toScreen(at.x, at.y);
    context.beginPath();
    context.arc(view.sx, view.sy, radiusOf(mover, view, ink), 0, 2 * Math.PI);
    context.fillStyle = ink.moverWash;
    context.fill();
    context.strokeStyle = ink.mover;
    context.lineWidth = (mover.confidence < FIRM ? 1.4 : 2.5) * ink.pen;
    context.stroke();
    if (Math.hypot(mover.vxMps, mover.vyMps) < 0.05) continue;
    const [x, y] = [mover.xM, mover.yM];
    arrow(context, view, model, ink, x, y, x + mover.vxMps, y + mover.vyMps, ink.mover, 2.5 * ink.pen);
  }
}

function radiusOf(mover: Mover, view: View, ink: Ink): number {
  return Math.max(8 * ink.pen, (mover.widthM / 2) * view.pxPerM);
}

function isClosing({ closestM, closestInS }: Mover): boolean {
  return closestInS > 0.1 && closestInS <= SOON && closestM <= NEAR;
}

/** Whether a mover is among the three that will come nearest: more would only hide each other. */
function isPressing(movers: readonly Mover[], mover: Mover): boolean {
  let nearer = 0;
  for (let i = 0; i < movers.length; i++) {
    const other = movers[i];
    if (other === mover || !isClosing(other) || other.confidence < SURE) continue;
    if (other.closestM < mover.closestM || (other.closestM === mover.closestM && other.id < mover.id)) nearer++;
  }
  return nearer < PRESSING;
}

function drawTrail(context: Context, view: View, model: Model, ink: Ink, id: number, dots: number): void {
  const trail = model.trails.of(id);
  if (trail === undefined) return;
  const ring = trail.x.length;
  context.fillStyle = ink.mover;
  context.beginPath();
  let k = trail.count - 1;
  for (let i = 0; i < dots; i++) {
    const wanted = trail.seenAt - (TRAIL * (i + 1)) / TRAIL_DOTS;
    while (k >= 0 && trail.time[(trail.next + ring - trail.count + k) % ring] > wanted) k--;
    if (k < 0) break;
    const slot = (trail.next + ring - trail.count + k) % ring;
    view.toScreen(trail.x[slot], trail.y[slot]);
    const radius = (1.6 + (1.9 * (TRAIL_DOTS - i)) / TRAIL_DOTS) * ink.pen;
    context.moveTo(view.sx + radius, view.sy);
    context.arc(view.sx, view.sy, radius, 0, 2 * Math.PI);
  }
  context.fill();
}

/** Where both would be at the closest approach, and the line between them. */
function drawClosest(context: Context, view: View, model: Model, ink: Ink, mover: Mover): void {
  const { pose, motion, outline } = model;
  if (outline.length < 3) return;
  const time = mover.closestInS;
  const way = (motion?.vxMps ?? 0) * time;
  const aside = (motion?.vyMps ?? 0) * time;
  toWorld(pose, way, aside, at);
  context.setLineDash(GHOST);
  context.strokeStyle = ink.ink;
  context.lineWidth = 1.2 * ink.pen;
  if (Math.hypot(way, aside) > 0.05) {
    traceOutline(context, view, model, at.x, at.y, 0);
    context.stroke();
  }
  const x = mover.xM + mover.vxMps * time;
  const y = mover.yM + mover.vyMps * time;
  toWorld(pose, x, y, at);
  view.toScreen(at.x, at.y);
  context.beginPath();
  context.arc(view.sx, view.sy, radiusOf(mover, view, ink), 0, 2 * Math.PI);
  context.strokeStyle = ink.mover;
  context.lineWidth = 1.4 * ink.pen;
  context.stroke();
  context.setLineDash(SOLID);
  const distance = nearestOn(outline, x - way, y - aside, from);
  const part = distance > 0 ? Math.max(0, 1 - mover.widthM / 2 / distance) : 0;
  const x1 = from.x + way;
  const y1 = from.y + aside;
  dimension(context, view, model, ink, x1, y1, x1 + (x - x1) * part, y1 + (y - y1) * part, ink.mover, 1.4 * ink.pen);
}

/** A dimension line between two points of the rover's axes, with oblique end ticks. */
function dimension(
  context: Context,
  view: View,
  model: Model,
  ink: Ink,
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  colour: string,
  width: number,
): void {
  const tick = 5 * ink.pen;
  context.beginPath();
  go(context, view, model, x1, y1, true);
  const { sx, sy } = view;
  go(context, view, model, x2, y2, false);
  context.strokeStyle = colour;
  context.lineWidth = width;
  context.stroke();
  context.beginPath();
  context.moveTo(sx - tick, sy + tick);
  context.lineTo(sx + tick, sy - tick);
  context.moveTo(view.sx - tick, view.sy + tick);
  context.lineTo(view.sx + tick, view.sy - tick);
  context.lineWidth = width + 0.6 * ink.pen;
  context.stroke();
}

export function labelMovers(labels: Labels, view: View, model: Model, ink: Ink): void {
  for (const mover of model.movers?.movers ?? []) {
    if (mover.confidence < SURE) continue;
    toWorld(model.pose, mover.xM, mover.yM, at);
    const radius = radiusOf(mover, view, ink) + 8 * ink.rem;
    const speed = `${roundLength(Math.hypot(mover.vxMps, mover.vyMps))} ${lengthUnit()}/s · ${roundLength(mover.widthM)} wide`;
    // beside it, on the side it does not go to
    view.toScreen(at.x, at.y);
    const sx = view.sx;
    toWorld(model.pose, mover.xM + mover.vxMps, mover.yM + mover.vyMps, from);
    view.toScreen(from.x, from.y);
    const isLeft = view.sx > sx + 4;
    const side = isLeft ? -radius : radius;
    const anchor = isLeft ? 'end' : 'start';
    labels.upright(RANK.mover, moverHand, `mover ${mover.id}`, at.x, at.y, side, -8 * ink.rem, anchor);
    labels.upright(RANK.mover, moverSubHand, speed, at.x, at.y, side, 10 * ink.rem, anchor);
    if (!isClosing(mover) || !isPressing(model.movers?.movers ?? [], mover)) continue;
    const time = mover.closestInS;
    toWorld(model.pose, mover.xM + mover.vxMps * time, mover.yM + mover.vyMps * time, at);
    const text = `closest ${cutLength(mover.closestM)} in ${time.toFixed(1)} s`;
    labels.upright(RANK.closest, moverHand, text, at.x, at.y, radius, 0);
  }
}

/** The leeway ahead as a dimension line beside the cart. */
export function drawAhead(context: Context, view: View, model: Model, ink: Ink): void {
  const { ahead, outline } = model;
  if (!(ahead > 0) || outline.length < 3) return;
  const front = frontOf(outline);
  const side = sideOf(model);
  dimension(context, view, model, ink, front, side, front + ahead, side, ink.edge, 1.3 * ink.pen);
}

function sideOf({ outline }: Model): number {
  let side = 0;
  for (let i = 0; i < outline.length; i++) side = Math.max(side, outline[i].yM);
  return side;
}

export function labelAhead(labels: Labels, view: View, model: Model, ink: Ink): void {
  const { ahead, outline } = model;
  if (!(ahead > 0) || outline.length < 3) return;
  const front = frontOf(outline);
  // in the middle of what is seen of it
  let far = ahead;
  for (let i = 0; i < 12; i++) {
    toWorld(model.pose, front + far, sideOf(model), at);
    view.toScreen(at.x, at.y);
    if (view.isInside(view.sx, view.sy)) break;
    far *= 0.85;
  }
  toWorld(model.pose, front + 0.55 * far, sideOf(model), at);
  labels.along(RANK.leeway, leewayHand, `leeway ${cutLength(ahead)}`, '', at.x, at.y, model.pose.heading, 13 * ink.rem);
}
