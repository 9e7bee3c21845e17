import type { Marks, Pin } from '../measure/marks.js';
import type { Spot } from '../measure/snap.js';
import type { Model } from '../model.js';
import { clockTime, fromUnit, unitsInUse } from '../units.js';
import { SOLID } from './ground.js';
import type { Ink } from './ink.js';
import type { Hand, Lettering, Sprite } from './lettering.js';
import type { View } from './view.js';

type Context = CanvasRenderingContext2D;
const WAITING = [4, 4];
const plateHand: Hand = { size: 16, weight: 600, colour: 'ink', halo: 'none' };
const discHand: Hand = { size: 13, weight: 600, colour: 'film', halo: 'none' };
const pinHand: Hand = { size: 15.5, weight: 600, colour: 'ink', halo: 'none' };
const pinSubHand: Hand = { size: 14, weight: 400, colour: 'graphite', halo: 'none' };

/** The measuring tape: a yellow ribbon with ticks, its ends shaped after what they hold. */
export function drawTape(
  context: Context,
  view: View,
  marks: Marks,
  ink: Ink,
  lettering: Lettering,
  cross: Spot | undefined,
): void {
  const { tape } = marks;
  if (tape === undefined) return;
  const b = tape.b ?? cross;
  view.toScreen(tape.a.x, tape.a.y);
  const x1 = view.sx;
  const y1 = view.sy;
  if (b !== undefined) {
    view.toScreen(b.x, b.y);
    drawRibbon(context, view, ink, x1, y1, view.sx, view.sy, Math.hypot(b.x - tape.a.x, b.y - tape.a.y));
    drawEnd(context, ink, view.sx, view.sy, b.hold);
  }
  drawEnd(context, ink, x1, y1, tape.a.hold);
  if (tape.b === undefined || marks.plate === '') return;
  view.toScreen(tape.b.x, tape.b.y);
  const sprite = lettering.sprite(marks.plate, plateHand, '', true);
  if (sprite === undefined) return;
  drawPlate(context, view, ink, sprite, (x1 + view.sx) / 2, (y1 + view.sy) / 2, view.sx - x1, view.sy - y1);
}

function drawRibbon(
  context: Context,
  view: View,
  ink: Ink,
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  length: number,
): void {
  const px = Math.hypot(x2 - x1, y2 - y1);
  if (px < 1) return;
  const ux = (x2 - x1) / px;
  const uy = (y2 - y1) / px;
  const half = 5.5 * ink.rem;
  context.beginPath();
  context.moveTo(x1 - uy * half, y1 + ux * half);
  context.lineTo(x1 + uy * half, y1 - ux * half);
  context.lineTo(x2 + uy * half, y2 - ux * half);
  context.lineTo(x2 - uy * half, y2 + ux * half);
  context.closePath();
  context.fillStyle = ink.tape;
  context.fill();
  context.strokeStyle = ink.ink;
  context.lineWidth = 1.2 * ink.pen;
  context.stroke();
  const step = unitsInUse() === 'metric' ? 0.1 : fromUnit(1 / 4);
  const every = unitsInUse() === 'metric' ? 5 : 4;
  const fine = step * view.pxPerM < 4 ? every : 1;
  context.beginPath();
  for (let i = 0; i * step <= length; i += fine) {
    const at = (i * step * px) / length;
    const reach = i % every === 0 ? -0.9 : -0.1;
    context.moveTo(x1 + ux * at - uy * half, y1 + uy * at + ux * half);
    context.lineTo(x1 + ux * at - uy * half * -reach, y1 + uy * at + ux * half * -reach);
    if (i % every !== 0) continue;
    context.lineTo(x1 + ux * at + uy * half * 0.9, y1 + uy * at - ux * half * 0.9);
  }
  context.lineWidth = 0.9 * ink.pen;
  context.stroke();
}

/** Square on a wall, triangle on a corner, round on an echo, cross in the open. */
function drawEnd(context: Context, ink: Ink, x: number, y: number, hold: Spot['hold']): void {
  const r = 6.5 * ink.rem;
  context.beginPath();
  if (hold === 'wall') context.rect(x - r, y - r, 2 * r, 2 * r);
  else if (hold === 'corner') {
    context.moveTo(x, y - 1.2 * r);
    context.lineTo(x + 1.2 * r, y + r);
    context.lineTo(x - 1.2 * r, y + r);
    context.closePath();
  } else if (hold === 'echo') context.arc(x, y, r, 0, 2 * Math.PI);
  else {
    context.moveTo(x - r, y - r);
    context.lineTo(x + r, y + r);
    context.moveTo(x + r, y - r);
    context.lineTo(x - r, y + r);
  }
  context.fillStyle = ink.film;
  if (hold !== 'open') context.fill();
  context.strokeStyle = ink.ink;
  context.lineWidth = 2 * ink.pen;
  context.stroke();
}

function drawPlate(
  context: Context,
  view: View,
  ink: Ink,
  sprite: Sprite,
  x: number,
  y: number,
  dx: number,
  dy: number,
): void {
  const width = sprite.width + 20 * ink.rem;
  const height = 28 * ink.rem;
  // beside the ribbon, inside the sheet
  const length = Math.hypot(dx, dy) || 1;
  const off = Math.abs(dy / length) * (width / 2) + Math.abs(dx / length) * (height / 2) + 12 * ink.rem;
  let px = x - (Math.abs(dy) / length) * off;
  const py = y - (Math.abs(dx) / length) * off;
  if (px - width / 2 < view.left + 4) px = x + (Math.abs(dy) / length) * off;
  context.fillStyle = ink.tape;
  context.fillRect(px - width / 2, py - height / 2, width, height);
  context.strokeStyle = ink.ink;
  context.lineWidth = 1.2 * ink.pen;
  context.strokeRect(px - width / 2, py - height / 2, width, height);
  context.drawImage(sprite.picture, px - sprite.width / 2, py - sprite.height / 2, sprite.width, sprite.height);
}

/** Places on the sheet that labels keep clear of: four numbers a box, px. */
export interface Reserved {
  readonly boxes: Float64Array;
  count: number;
  /** px, left and top of the title block. */
  readonly blockLeft: number;
  readonly blockTop: number;
}

/** Pins: a numbered disc at the wall, a leader, and a box with what is measured; the boxes are reserved. */
export function drawPins(
  context: Context,
  view: View,
  model: Model,
  marks: Marks,
  ink: Ink,
  lettering: Lettering,
  reserved: Reserved,
): void {
  view.toScreen(model.pose.x, model.pose.y);
  const cart = view.sy;
  reserved.count = 0;
  for (let i = 0; i < marks.pins.length; i++) drawPin(context, view, marks.pins[i], cart, ink, lettering, reserved);
}

function drawPin(
  context: Context,
  view: View,
  pin: Pin,
  cart: number,
  ink: Ink,
  lettering: Lettering,
  reserved: Reserved,
): void {
  const second = pin.isSeen || pin.seenAt === 0 ? pin.lines[1] : `not seen since ${clockTime(pin.seenAt)}`;
  const first = lettering.sprite(pin.lines[0], pinHand, '', true);
  const sub = lettering.sprite(second, pinSubHand, '', true);
  const disc = lettering.sprite(String(pin.number), discHand, '', true);
  if (first === undefined || sub === undefined || disc === undefined) return;
  view.toScreen(pin.spot.x, pin.spot.y);
  const { sx, sy } = view;
  const width = Math.max(first.width, sub.width) + 20 * ink.rem;
  const height = 50 * ink.rem;
  placeBox(view, sx, sy, width, height, 34 * ink.rem, sy > cart, reserved);
  const { boxes } = reserved;
  const at = 4 * reserved.count++;
  const x = boxes[at];
  const y = boxes[at + 1];
  context.strokeStyle = ink.ink;
  context.lineWidth = ink.pen;
  context.beginPath();
  context.moveTo(sx, sy);
  context.lineTo(Math.min(x + width - 14, Math.max(x + 14, sx)), y > sy ? y : y + height);
  context.stroke();
  context.fillStyle = ink.film;
  context.fillRect(x, y, width, height);
  if (!pin.isSeen) context.setLineDash(WAITING);
  context.lineWidth = 1.5 * ink.pen;
  context.strokeRect(x, y, width, height);
  context.setLineDash(SOLID);
  put(context, first, x + 10 * ink.rem, y + 5 * ink.rem);
  put(context, sub, x + 10 * ink.rem, y + 26 * ink.rem);
  if (!view.isInside(sx, sy)) return;
  context.beginPath();
  context.arc(sx, sy, 10 * ink.rem, 0, 2 * Math.PI);
  context.fillStyle = ink.ink;
  context.fill();
  context.strokeStyle = ink.film;
  context.stroke();
  put(context, disc, sx - disc.width / 2, sy - disc.height / 2);
}

/** Puts a sprite on whole pixels: its letters are sharp there. */
function put(context: Context, sprite: Sprite, x: number, y: number): void {
  context.drawImage(sprite.picture, Math.round(x), Math.round(y), sprite.width, sprite.height);
}

/** Finds a place for a pin's box: outside the wall, where the rover is not; inside the sheet, off the title block and the boxes before. */
function placeBox(
  view: View,
  sx: number,
  sy: number,
  width: number,
  height: number,
  gap: number,
  isBelow: boolean,
  reserved: Reserved,
): void {
  const { boxes, blockLeft, blockTop } = reserved;
  const least = view.left + 8;
  const x = Math.round(Math.min(view.width - width - 8, Math.max(least, sx - width * 0.3)));
  let y = isBelow ? sy + gap : sy - gap - height;
  const isOverBlock = x + width > blockLeft && y + height > blockTop - 8;
  if (isOverBlock || y + height > view.height - 8) y = sy - gap - height;
  if (y < view.top + 8) y = sy + gap;
  y = Math.round(Math.min(view.height - height - 8, Math.max(view.top + 8, y)));
  for (let i = 0; i < reserved.count; i++) {
    const at = 4 * i;
    const isTaken = x < boxes[at + 2] && x + width > boxes[at] && y < boxes[at + 3] && y + height > boxes[at + 1];
    if (isTaken) y = Math.min(view.height - height - 8, boxes[at + 3] + 8);
  }
  const at = 4 * reserved.count;
  boxes[at] = x;
  boxes[at + 1] = y;
  boxes[at + 2] = x + width;
  boxes[at + 3] = y + height;
}

/** Where the next point would be set. */
export function drawCross(context: Context, view: View, ink: Ink, spot: Spot): void {
  view.toScreen(spot.x, spot.y);
  const { sx, sy } = view;
  const [gap, arm] = [5 * ink.rem, 22 * ink.rem];
  for (const isHalo of [true, false]) {
    context.beginPath();
    for (const [dx, dy] of ARMS) {
      context.moveTo(sx + dx * gap, sy + dy * gap);
      context.lineTo(sx + dx * arm, sy + dy * arm);
    }
    context.strokeStyle = isHalo ? ink.film : ink.ink;
    context.lineWidth = (isHalo ? 4 : 1.5) * ink.pen;
    context.stroke();
  }
  if (spot.hold !== 'open') drawEnd(context, ink, sx, sy, spot.hold);
}

const ARMS = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const;
