import type { Corner, Finding, Opening, Wall } from '../../../typescript/src/client.js';
import { toWorld } from '../geometry.js';
import type { Model } from '../model.js';
import { cutLength, degrees, roundLength } from '../units.js';
import { SOLID } from './ground.js';
import type { Ink } from './ink.js';
import { type Labels, RANK } from './labels.js';
import type { Hand } from './lettering.js';
import type { View } from './view.js';

type Context = CanvasRenderingContext2D;
const WEAK_ECHOES = 8;
const WEAK_SD = 0.03; // m
const ROUGH = 2; // times the noise expected
const DASHED = [7, 5];
const POST_DASHED = [3, 2];
const SILL = [2, 4];
const MIDDLES = [0.5, 0.35, 0.65, 0.2, 0.8];

const wallHand: Hand = { size: 14, weight: 400, colour: 'ink', halo: 'film' };
const cornerHand: Hand = { size: 13.5, weight: 400, colour: 'ink', halo: 'film' };
const openingHand: Hand = { size: 14, weight: 600, colour: 'ink', halo: 'film' };
const postHand: Hand = { size: 13.5, weight: 400, colour: 'ink', halo: 'film' };
const findingHand: Hand = { size: 14, weight: 600, colour: 'caution', halo: 'box' };

const a = { x: 0, y: 0 };
const b = { x: 0, y: 0 };
const s = { x1: 0, y1: 0, x2: 0, y2: 0 };

/** Puts two points of the rover's axes into `a`, `b` (world) and `s` (sheet). */
function place(view: View, model: Model, x1: number, y1: number, x2: number, y2: number): void {
  toWorld(model.pose, x1, y1, a);
  toWorld(model.pose, x2, y2, b);
  view.toScreen(a.x, a.y);
  s.x1 = view.sx;
  s.y1 = view.sy;
  view.toScreen(b.x, b.y);
  s.x2 = view.sx;
  s.y2 = view.sy;
}

/** Walls as strokes; dashed where they are only where they last stood. */
export function drawWalls(context: Context, view: View, model: Model, ink: Ink, isPast: boolean): void {
  const walls = model.shapes?.walls ?? [];
  if (isPast) context.setLineDash(DASHED);
  context.strokeStyle = ink.ink;
  context.globalAlpha = isPast ? 0.75 : 1;
  for (const isWeak of [true, false]) {
    context.beginPath();
    for (let i = 0; i < walls.length; i++) {
      const wall = walls[i];
      if (isWeakWall(wall) !== isWeak) continue;
      place(view, model, wall.x1M, wall.y1M, wall.x2M, wall.y2M);
      context.moveTo(s.x1, s.y1);
      context.lineTo(s.x2, s.y2);
    }
    context.lineWidth = (isWeak ? 1.75 : 3.25) * ink.pen;
    context.stroke();
  }
  context.setLineDash(SOLID);
  context.globalAlpha = 1;
  if (!isPast) drawStops(context, view, model, ink, walls);
}

function isWeakWall(wall: Wall): boolean {
  return wall.echoes < WEAK_ECHOES || wall.distanceVar > WEAK_SD ** 2;
}

/** Thin end stops, as on a dimension line. */
function drawStops(context: Context, view: View, model: Model, ink: Ink, walls: readonly Wall[]): void {
  context.beginPath();
  for (let i = 0; i < walls.length; i++) {
    const wall = walls[i];
    place(view, model, wall.x1M, wall.y1M, wall.x2M, wall.y2M);
    const length = Math.hypot(s.x2 - s.x1, s.y2 - s.y1);
    if (length < 24 * ink.rem) continue;
    const nx = (-(s.y2 - s.y1) / length) * 5 * ink.pen;
    const ny = ((s.x2 - s.x1) / length) * 5 * ink.pen;
    context.moveTo(s.x1 - nx, s.y1 - ny);
    context.lineTo(s.x1 + nx, s.y1 + ny);
    context.moveTo(s.x2 - nx, s.y2 - ny);
    context.lineTo(s.x2 + nx, s.y2 + ny);
  }
  context.lineWidth = ink.pen;
  context.stroke();
}

/** Length in ink, distance in graphite, outside the wall. @param noise m, expected of the sensor at a range. */
export function labelWalls(labels: Labels, view: View, model: Model, ink: Ink, noise: (range: number) => number): void {
  for (const wall of model.shapes?.walls ?? []) {
    place(view, model, wall.x1M, wall.y1M, wall.x2M, wall.y2M);
    const run = clip(view);
    if (run === undefined || run.px < 96 * ink.rem) continue;
    const along = Math.atan2(b.y - a.y, b.x - a.x);
    // the rover stands on the other side than the label
    const side = (b.x - a.x) * (model.pose.y - a.y) - (b.y - a.y) * (model.pose.x - a.x) > 0 ? -1 : 1;
    const expected = noise(wall.distanceM);
    const roughness = Math.hypot(1, wall.roughnessM / expected);
    const rough = roughness >= ROUGH ? `  rough ${roughness.toFixed(1)}` : '';
    const length = Math.hypot(wall.x2M - wall.x1M, wall.y2M - wall.y1M);
    const middle = run.from + (run.to - run.from) * MIDDLES[0];
    labels.along(
      ...([RANK.wall, wallHand, roundLength(length), `⊥ ${roundLength(wall.distanceM)}${rough}`] as const),
      a.x + (b.x - a.x) * middle,
      a.y + (b.y - a.y) * middle,
      ...([along, side * 15 * ink.rem] as const),
    );
  }
}

/** @returns which part of the line s lies on the sheet, 0 to 1, and how long that is; undefined: none. Liang and Barsky 1984. */
function clip(view: View): { from: number; to: number; px: number } | undefined {
  const dx = s.x2 - s.x1;
  const dy = s.y2 - s.y1;
  let from = 0;
  let to = 1;
  const edges = [
    [-dx, s.x1 - view.left],
    [dx, view.width - s.x1],
    [-dy, s.y1 - view.top],
    [dy, view.height - view.bottom - s.y1],
  ];
  for (const [p, q] of edges) {
    if (p === 0 && q < 0) return undefined;
    if (p < 0) from = Math.max(from, q / p);
    else if (p > 0) to = Math.min(to, q / p);
  }
  return from < to ? { from, to, px: (to - from) * Math.hypot(dx, dy) } : undefined;
}

/** Corners: an arc on the side that is seen, a filled dot within, a ring and the long arc without. */
export function drawCorners(context: Context, view: View, model: Model, ink: Ink): void {
  const { corners = [], walls = [] } = model.shapes ?? {};
  const radius = 20 * ink.rem;
  context.strokeStyle = ink.ink;
  for (let i = 0; i < corners.length; i++) {
    const corner = corners[i];
    place(view, model, corner.xM, corner.yM, 0, 0);
    const { x1, y1 } = s;
    const middle = middleOf(corner, walls);
    if (!Number.isNaN(middle)) {
      const towards = -(middle + model.pose.heading + view.turn);
      context.beginPath();
      context.arc(x1, y1, radius, towards - corner.angleRad / 2, towards + corner.angleRad / 2);
      context.lineWidth = ink.pen;
      context.stroke();
    }
    context.beginPath();
    context.arc(x1, y1, (corner.kind === 'inner' ? 3.6 : 4) * ink.pen, 0, 2 * Math.PI);
    context.fillStyle = corner.kind === 'inner' ? ink.ink : ink.film;
    context.fill();
    if (corner.kind === 'inner') continue;
    context.lineWidth = 1.75 * ink.pen;
    context.stroke();
  }
}

/** @returns rad, rover axes, the middle of the angle that the two walls at the corner open towards the rover. */
function middleOf(corner: Corner, walls: readonly Wall[]): number {
  let first = Number.NaN;
  let second = Number.NaN;
  for (let i = 0; i < walls.length; i++) {
    const wall = walls[i];
    const near1 = Math.hypot(wall.x1M - corner.xM, wall.y1M - corner.yM);
    const near2 = Math.hypot(wall.x2M - corner.xM, wall.y2M - corner.yM);
    if (Math.min(near1, near2) > 0.25) continue;
    const away = near1 < near2 ? 1 : -1;
    const direction = Math.atan2(away * (wall.y2M - wall.y1M), away * (wall.x2M - wall.x1M));
    if (Number.isNaN(first)) first = direction;
    else second = direction;
  }
  const home = Math.atan2(-corner.yM, -corner.xM);
  if (Number.isNaN(second)) return home;
  const middle = Math.atan2(Math.sin(first) + Math.sin(second), Math.cos(first) + Math.cos(second));
  return corner.kind === 'outer' ? middle + Math.PI : middle;
}

export function labelCorners(labels: Labels, view: View, model: Model, ink: Ink): void {
  const { corners = [], walls = [] } = model.shapes ?? {};
  for (const corner of corners) {
    place(view, model, corner.xM, corner.yM, 0, 0);
    const middle = middleOf(corner, walls) + model.pose.heading + view.turn;
    const off = 38 * ink.rem;
    labels.upright(
      ...([RANK.corner, cornerHand, degrees(corner.angleRad), a.x, a.y] as const),
      ...([Math.cos(middle) * off, -Math.sin(middle) * off, 'middle'] as const),
    );
  }
}

/** Openings: the face broken, jambs across it, a dotted sill, and a dimension line outside. */
export function drawOpenings(context: Context, view: View, model: Model, ink: Ink): void {
  const openings = model.shapes?.openings ?? [];
  for (let i = 0; i < openings.length; i++) drawOpening(context, view, model, ink, openings[i]);
}

function drawOpening(context: Context, view: View, model: Model, ink: Ink, opening: Opening): void {
  place(view, model, opening.x1M, opening.y1M, opening.x2M, opening.y2M);
  const { x1, y1, x2, y2 } = s;
  const length = Math.hypot(x2 - x1, y2 - y1);
  if (length < 6) return;
  const out = outward(view, model);
  const nx = (out * -(y2 - y1)) / length;
  const ny = (out * (x2 - x1)) / length;
  const jamb = 9 * ink.pen;
  line(context, x1, y1, x2, y2, ink.film, 4 * ink.pen);
  context.setLineDash(SILL);
  line(context, x1, y1, x2, y2, ink.ink, ink.pen);
  context.setLineDash(SOLID);
  line(context, x1 - nx * jamb, y1 - ny * jamb, x1 + nx * jamb, y1 + ny * jamb, ink.ink, 3.25 * ink.pen);
  line(context, x2 - nx * jamb, y2 - ny * jamb, x2 + nx * jamb, y2 + ny * jamb, ink.ink, 3.25 * ink.pen);
  const off = 26 * ink.rem;
  const tick = 5 * ink.pen;
  const [ax, ay, bx, by] = [x1 + nx * off, y1 + ny * off, x2 + nx * off, y2 + ny * off];
  line(context, ax, ay, bx, by, ink.graphite, ink.pen);
  line(context, x1 + nx * 13 * ink.rem, y1 + ny * 13 * ink.rem, ax + nx * 5, ay + ny * 5, ink.graphite, ink.pen);
  line(context, x2 + nx * 13 * ink.rem, y2 + ny * 13 * ink.rem, bx + nx * 5, by + ny * 5, ink.graphite, ink.pen);
  line(context, ax - tick, ay + tick, ax + tick, ay - tick, ink.ink, 1.75 * ink.pen);
  line(context, bx - tick, by + tick, bx + tick, by - tick, ink.ink, 1.75 * ink.pen);
}

/** @returns 1 or -1: on which side of the line s, right on the screen of its direction being 1, the rover is not. */
function outward(view: View, model: Model): number {
  view.toScreen(model.pose.x, model.pose.y);
  return (s.x2 - s.x1) * (view.sy - s.y1) - (s.y2 - s.y1) * (view.sx - s.x1) > 0 ? -1 : 1;
}

function line(context: Context, x1: number, y1: number, x2: number, y2: number, colour: string, width: number): void {
  context.beginPath();
  context.moveTo(x1, y1);
  context.lineTo(x2, y2);
  context.strokeStyle = colour;
  context.lineWidth = width;
  context.stroke();
}

/** @returns how the cart would pass an opening of a width, m. */
export function passage({ outline }: Model, width: number): string {
  let most = -Infinity;
  let least = Infinity;
  for (const { yM } of outline) {
    most = Math.max(most, yM);
    least = Math.min(least, yM);
  }
  const room = (width - (most - least)) / 2;
  return room > 0 ? `cart passes, ${cutLength(room)} each side` : 'cart does not pass';
}

/** @param over world, m: an opening under the pointer says how the cart passes. */
export function labelOpenings(
  labels: Labels,
  view: View,
  model: Model,
  ink: Ink,
  over: Readonly<{ x: number; y: number }>,
): void {
  for (const opening of model.shapes?.openings ?? []) {
    place(view, model, opening.x1M, opening.y1M, opening.x2M, opening.y2M);
    const side = (b.x - a.x) * (model.pose.y - a.y) - (b.y - a.y) * (model.pose.x - a.x) > 0 ? -1 : 1;
    labels.along(
      ...([RANK.opening, openingHand, `opening ${roundLength(opening.widthM)}`] as const),
      Math.hypot((a.x + b.x) / 2 - over.x, (a.y + b.y) / 2 - over.y) < Math.max(0.5, opening.widthM / 2)
        ? passage(model, opening.widthM)
        : '',
      (a.x + b.x) / 2,
      (a.y + b.y) / 2,
      Math.atan2(b.y - a.y, b.x - a.x),
      side * 42 * ink.rem,
    );
  }
}

/** Posts: round, to scale but never too small to see, with a cross. */
export function drawPosts(context: Context, view: View, model: Model, ink: Ink, isPast: boolean): void {
  const posts = model.shapes?.posts ?? [];
  context.strokeStyle = ink.ink;
  for (let i = 0; i < posts.length; i++) {
    const post = posts[i];
    place(view, model, post.xM, post.yM, 0, 0);
    const radius = Math.max(4 * ink.pen, post.radiusM * view.pxPerM);
    context.beginPath();
    context.arc(s.x1, s.y1, radius, 0, 2 * Math.PI);
    context.fillStyle = ink.film;
    context.fill();
    context.lineWidth = 1.75 * ink.pen;
    if (isPast) context.setLineDash(POST_DASHED);
    context.stroke();
    context.setLineDash(SOLID);
    if (isPast) continue;
    const arm = radius * 0.55;
    context.beginPath();
    context.moveTo(s.x1 - arm, s.y1);
    context.lineTo(s.x1 + arm, s.y1);
    context.moveTo(s.x1, s.y1 - arm);
    context.lineTo(s.x1, s.y1 + arm);
    context.lineWidth = 0.8 * ink.pen;
    context.stroke();
  }
}

export function labelPosts(labels: Labels, view: View, model: Model, ink: Ink): void {
  for (const post of model.shapes?.posts ?? []) {
    if (view.pxPerM < 60 * ink.rem || !(post.radiusSdM < 0.02)) continue;
    place(view, model, post.xM, post.yM, 0, 0);
    const radius = Math.max(4 * ink.pen, post.radiusM * view.pxPerM);
    labels.upright(
      RANK.post,
      postHand,
      `ø ${roundLength(2 * post.radiusM)}`,
      a.x,
      a.y,
      0,
      -radius - 9 * ink.rem,
      'middle',
    );
  }
}

/** Findings with a place stand at it, numbered as in the list. */
export function labelFindings(labels: Labels, model: Model, findings: readonly Finding[]): void {
  findings.forEach(({ what, fromRad, toRad }, i) => {
    if (fromRad === undefined || toRad === undefined) return;
    const width = (((toRad - fromRad) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
    const bearing = fromRad + width / 2;
    toWorld(model.pose, 2 * Math.cos(bearing), 2 * Math.sin(bearing), a);
    const words = what.replace(/\s*\(.*$/, '');
    labels.upright(RANK.mark, findingHand, `${i + 1}  ${words}`, a.x, a.y, 0, 0, 'middle');
  });
}
