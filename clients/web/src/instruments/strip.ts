import { canvasOf, rem, token } from '../dom.js';
import type { EventKind, Happening } from '../history.js';

/** What the strip shows: a curve over time, gaps where nothing was known, and what happened. */
export interface StripView {
  readonly from: number;
  readonly to: number;
  /** From which time ticks are counted. */
  readonly zero: number;
  /** m: the curve's foot is 0, its head this. */
  readonly most: number;
  readonly stop: number;
  readonly happenings: readonly Happening[];
  /** Where the hand stands; NaN: there is none, the strip is live. */
  readonly hand: number;
  /** @returns what stands below a tick at a time. */
  readonly tick: (time: number) => string;
  readonly last: string;
  /** s, least time between two ticks. */
  readonly finest: number;
  /** Calls `take` with each sample; NaN: nothing was known. */
  readonly curve: (take: (time: number, ahead: number) => void) => void;
}

const STEPS = [10, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200];

/** Draws the time strip. */
export function drawStrip(view: StripView): void {
  const canvas = canvasOf('strip-graph');
  if (canvas === undefined) return;
  const { pen, width } = canvas;
  const size = rem();
  const high = 32 * size;
  const xOf = (time: number): number => ((time - view.from) / (view.to - view.from)) * width;
  const yOf = (ahead: number): number => high - 1 - Math.min(1, ahead / view.most) * (high - 4 * size);
  pen.fillStyle = token('--film-sunk');
  pen.fillRect(0, 0, width, high);
  drawGaps(pen, view, xOf, high);
  pen.strokeStyle = token('--ink');
  pen.setLineDash([5, 3]);
  pen.lineWidth = 1;
  pen.beginPath();
  pen.moveTo(0, yOf(view.stop));
  pen.lineTo(width, yOf(view.stop));
  pen.stroke();
  pen.setLineDash([]);
  pen.strokeStyle = token('--leeway-edge');
  pen.lineWidth = 1.5 * size;
  pen.lineJoin = 'round';
  pen.beginPath();
  let isOpen = false;
  let lastX = -1;
  view.curve((time, ahead) => {
    const x = xOf(time);
    if (Number.isNaN(ahead)) isOpen = false;
    else if (!isOpen) {
      pen.moveTo(x, yOf(ahead));
      isOpen = true;
    } else if (x - lastX >= 0.7) pen.lineTo(x, yOf(ahead));
    else return;
    lastX = x;
  });
  pen.stroke();
  for (const { at, kind } of view.happenings)
    if (at >= view.from && at <= view.to)
      glyph(pen, kind, Math.min(width - 7 * size, Math.max(7 * size, xOf(at))), high + 9 * size, size);
  drawTicks(pen, view, xOf, width, high, size);
  if (Number.isFinite(view.hand)) drawHand(pen, xOf(view.hand), high, size);
}

function drawGaps(pen: CanvasRenderingContext2D, view: StripView, xOf: (time: number) => number, high: number): void {
  const gaps: [number, number][] = [];
  let before = Number.NaN; // what came before the first sample was not looked at: no gap
  let isBlind = false;
  view.curve((time, ahead) => {
    if (isBlind || time - before > 2) gaps.push([before, time]);
    isBlind = Number.isNaN(ahead);
    before = time;
  });
  if (!Number.isNaN(before) && (isBlind || view.to - before > 2)) gaps.push([before, view.to]);
  pen.strokeStyle = token('--hatch-unknown');
  pen.lineWidth = 1.1;
  for (const [from, to] of gaps) {
    const left = xOf(from);
    const right = xOf(to);
    if (right - left < 1) continue;
    pen.save();
    pen.beginPath();
    pen.rect(left, 0, right - left, high);
    pen.clip();
    pen.beginPath();
    for (let x = Math.floor((left - high) / 8) * 8; x < right; x += 8) {
      pen.moveTo(x, 0);
      pen.lineTo(x + high, high);
    }
    pen.stroke();
    pen.restore();
  }
}

function drawTicks(
  pen: CanvasRenderingContext2D,
  view: StripView,
  xOf: (time: number) => number,
  width: number,
  high: number,
  size: number,
): void {
  const step = STEPS.find((each) => each >= view.finest && (each / (view.to - view.from)) * width > 90 * size) ?? 14400;
  pen.font = `${12 * size}px ${token('--font-lettering')}`;
  pen.fillStyle = token('--graphite');
  pen.strokeStyle = token('--rule-strong');
  pen.lineWidth = 1;
  const foot = high + 30 * size;
  const first = view.zero + Math.ceil((view.from - view.zero) / step) * step;
  for (let time = first; time < view.to; time += step) {
    const x = xOf(time);
    pen.beginPath();
    pen.moveTo(x, high + 17 * size);
    pen.lineTo(x, high + 20 * size);
    pen.stroke();
    if (x > width - 56 * size) continue;
    pen.textAlign = x < 20 * size ? 'left' : 'center';
    pen.fillText(view.tick(time), x < 20 * size ? 0 : x, foot);
  }
  pen.textAlign = 'right';
  pen.fillText(view.last, width, foot);
}

function drawHand(pen: CanvasRenderingContext2D, x: number, high: number, size: number): void {
  pen.strokeStyle = token('--ink');
  pen.fillStyle = token('--ink');
  pen.lineWidth = 2.2 * size;
  pen.beginPath();
  pen.moveTo(x, 0);
  pen.lineTo(x, high + 18 * size);
  pen.stroke();
  pen.beginPath();
  pen.moveTo(x - 7 * size, 0);
  pen.lineTo(x + 7 * size, 0);
  pen.lineTo(x + 7 * size, 5 * size);
  pen.lineTo(x, 11 * size);
  pen.lineTo(x - 7 * size, 5 * size);
  pen.closePath();
  pen.fill();
}

/** Flag: mark. Round: a mover came close. Triangle: below the stopping distance. Crossed square: a fault of the sensor. */
function glyph(pen: CanvasRenderingContext2D, kind: EventKind, x: number, y: number, size: number): void {
  const r = 5.5 * size;
  pen.lineWidth = 1.8 * size;
  pen.beginPath();
  if (kind === 'mark') {
    pen.moveTo(x - r, y - r);
    pen.lineTo(x + r, y - r);
    pen.lineTo(x + r, y + r);
    pen.lineTo(x, y + r * 0.3);
    pen.lineTo(x - r, y + r);
    pen.closePath();
    pen.fillStyle = token('--ink');
    pen.fill();
    return;
  }
  if (kind === 'mover') pen.arc(x, y, r * 0.92, 0, 2 * Math.PI);
  else if (kind === 'stop') {
    pen.moveTo(x, y - r);
    pen.lineTo(x + r * 1.1, y + r);
    pen.lineTo(x - r * 1.1, y + r);
    pen.closePath();
  } else pen.rect(x - r, y - r, 2 * r, 2 * r);
  pen.fillStyle = token(kind === 'mover' ? '--mover-wash' : kind === 'stop' ? '--caution-wash' : '--film');
  pen.fill();
  pen.strokeStyle = token(kind === 'mover' ? '--mover' : kind === 'stop' ? '--caution' : '--ink');
  if (kind === 'fault') {
    pen.moveTo(x - r, y + r);
    pen.lineTo(x + r, y - r);
  }
  pen.stroke();
}
