import type { Model } from '../model.js';
import { fromUnit, lengthUnit } from '../units.js';
import type { Ink } from './ink.js';
import type { Hand, Lettering } from './lettering.js';
import type { View } from './view.js';

type Context = CanvasRenderingContext2D;
const APART = 44; // px between figures, at least
const STEPS = [1, 2, 5, 10, 20, 50];
const hand: Hand = { size: 12, weight: 400, colour: 'graphite', halo: 'none' };
const zeroHand: Hand = { size: 12, weight: 600, colour: 'ink', halo: 'none' };
const figures = Array.from({ length: 400 }, (_, i) => String(i));

/** The sheet's margin: metres or feet from the cart, a tick every half, 0 bold. */
export function drawRuler(context: Context, view: View, model: Model, ink: Ink, lettering: Lettering): void {
  const { left, top, width, height } = view;
  view.toScreen(model.pose.x, model.pose.y);
  const { sx, sy } = view;
  context.fillStyle = ink.film;
  context.fillRect(0, 0, width, top);
  context.fillRect(0, 0, left, height);
  context.strokeStyle = ink.ink;
  context.lineWidth = ink.pen;
  context.beginPath();
  context.moveTo(left, height);
  context.lineTo(left, top);
  context.lineTo(width, top);
  const unit = view.pxPerM * fromUnit(1);
  let step = STEPS[STEPS.length - 1];
  for (let i = STEPS.length - 1; i >= 0; i--) if (STEPS[i] * unit >= APART * ink.rem) step = STEPS[i];
  const tick = unit >= 24 * ink.rem ? 0.5 : step / 2;
  for (let i = Math.ceil((left - sx) / unit / tick); i <= (width - sx) / unit / tick; i++) {
    const x = sx + i * tick * unit;
    if (x < left + 3 || x > width - 5) continue;
    context.moveTo(x, top);
    context.lineTo(x, top - (Number.isInteger(i * tick) ? 7 : 4) * ink.rem);
  }
  for (let i = Math.ceil((top - sy) / unit / tick); i <= (height - sy) / unit / tick; i++) {
    const y = sy + i * tick * unit;
    if (y < top + 3 || y > height - 5) continue;
    context.moveTo(left, y);
    context.lineTo(left - (Number.isInteger(i * tick) ? 7 : 4) * ink.rem, y);
  }
  context.stroke();
  for (let m = Math.ceil((left - sx) / unit / step); m <= (width - sx) / unit / step; m++) {
    const x = sx + m * step * unit;
    if (x > left + 10 * ink.rem && x < width - 12 * ink.rem) put(context, lettering, m * step, x, top - 14.5 * ink.rem);
  }
  for (let m = Math.ceil((top - sy) / unit / step); m <= (height - sy) / unit / step; m++) {
    const y = sy + m * step * unit;
    if (y > top + 8 * ink.rem && y < height - 10 * ink.rem) put(context, lettering, m * step, left - 15 * ink.rem, y);
  }
  const sign = lettering.sprite(lengthUnit(), hand, '', true);
  if (sign !== undefined)
    context.drawImage(sign.picture, left / 2 - sign.width / 2, top / 2 - sign.height / 2, sign.width, sign.height);
}

function put(context: Context, lettering: Lettering, figure: number, x: number, y: number): void {
  const sprite = lettering.sprite(
    figures[Math.min(figures.length - 1, Math.abs(figure))],
    figure === 0 ? zeroHand : hand,
  );
  if (sprite === undefined) return;
  context.drawImage(
    sprite.picture,
    Math.round(x - sprite.width / 2),
    Math.round(y - sprite.height / 2),
    sprite.width,
    sprite.height,
  );
}
