import type { Sweep } from '../../../typescript/src/client.js';
import { canvasOf, rem, say, show, token } from '../dom.js';
import type { Noise } from '../measure/deviation.js';
import type { Residuals } from '../measure/residuals.js';
import { inUnit, lengthUnit, smallLength } from '../units.js';

const BARS = 27;
const SMOOTH = 1.5; // times the noise expected

/** Range over bearing of one revolution, unrolled: left of the middle is left. Bearings without an echo are ticks along the foot. */
export function drawSweep(sweep: Sweep | undefined): void {
  const canvas = canvasOf('sweep-graph');
  if (canvas === undefined) return;
  const { pen, width, height } = canvas;
  const size = rem();
  pen.font = `${12 * size}px ${token('--font-lettering')}`;
  pen.fillStyle = token('--graphite');
  if (sweep === undefined || sweep.bearingRad.length === 0) {
    pen.textAlign = 'center';
    pen.fillText('no sweep', width / 2, height / 2 + 4 * size);
    return;
  }
  const { bearingRad, rangeMm } = sweep;
  let far = 3000;
  for (const range of rangeMm) if (range > far) far = range;
  pen.textAlign = 'left';
  pen.fillText(`${Math.round(inUnit(far / 1000))} ${lengthUnit()}`, 4 * size, 13 * size);
  pen.strokeStyle = token('--rule');
  pen.lineWidth = 0.8;
  pen.beginPath();
  for (const part of [1, 2, 3]) {
    pen.moveTo((part / 4) * width, 0);
    pen.lineTo((part / 4) * width, height);
  }
  pen.stroke();
  pen.fillStyle = token('--ink');
  const dot = 1.5 * size;
  for (let i = 0; i < bearingRad.length; i++) {
    let turned = bearingRad[i];
    if (turned > Math.PI) turned -= 2 * Math.PI;
    const x = width / 2 - (turned / (2 * Math.PI)) * width;
    if (rangeMm[i] > 0)
      pen.fillRect(x - dot / 2, height - (rangeMm[i] / far) * (height - 18 * size) - dot / 2, dot, dot);
    else pen.fillRect(x - 0.5, height - 6 * size, 0.9, 5 * size);
  }
}

/** How far a pinned wall's echoes lie off it: bars, and as a line what is expected of the sensor. @param range m, to the wall. */
export function drawNoise(residuals: Residuals | undefined, number: number, range: number, noise: Noise): void {
  const isThere = residuals !== undefined && residuals.count > 20;
  show('noise-graph', isThere);
  show('noise-axis', isThere);
  show('noise-empty', !isThere);
  say('noise-name', residuals === undefined ? 'Noise' : `Noise on pin ${number}`);
  say('noise-empty', residuals === undefined ? 'Pin a wall to see its noise.' : 'Gathering echoes of the pinned wall.');
  say('noise-word', '');
  if (residuals === undefined || !isThere) return;
  const expected = noise(range);
  const { deviation } = residuals;
  const roughness = deviation / expected;
  const word = roughness <= SMOOTH ? 'smooth' : `rough ${roughness.toFixed(1)}`;
  say('noise-word', `σ ${smallLength(deviation)}, ${word}`);
  const reach = 3.2 * Math.max(expected, Math.min(deviation, 0.018));
  say('noise-from', `−${smallLength(reach)}`);
  say('noise-to', `+${smallLength(reach)}`);
  drawBars(residuals, reach, expected);
}

function drawBars(residuals: Residuals, reach: number, expected: number): void {
  const canvas = canvasOf('noise-graph');
  if (canvas === undefined) return;
  const { pen, width, height } = canvas;
  const counts = new Uint32Array(BARS);
  for (let i = 0; i < residuals.count; i++) {
    const bar = Math.floor(((residuals.values[i] + reach) / (2 * reach)) * BARS);
    if (bar >= 0 && bar < BARS) counts[bar]++;
  }
  // a normal distribution of that deviation, as many as there are, in one bar
  const share = (off: number): number =>
    ((2 * reach) / BARS / (expected * Math.sqrt(2 * Math.PI))) * Math.exp((-off * off) / (2 * expected * expected));
  const most = Math.max(residuals.count * share(0), ...counts);
  pen.fillStyle = token('--graphite');
  const wide = width / BARS;
  for (let i = 0; i < BARS; i++) {
    const high = (counts[i] / most) * (height - 6);
    pen.fillRect(i * wide + 0.8, height - high, Math.max(1, wide - 1.6), high);
  }
  pen.beginPath();
  for (let i = 0; i <= 80; i++) {
    const y = height - ((residuals.count * share((i / 40 - 1) * reach)) / most) * (height - 6);
    if (i === 0) pen.moveTo(0, y);
    else pen.lineTo((i / 80) * width, y);
  }
  pen.strokeStyle = token('--ink');
  pen.lineWidth = 1.5 * rem();
  pen.stroke();
}
