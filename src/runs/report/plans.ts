import type { Corners } from '../../geometry/outline.js';
import { escapeText, niceStep, px, timeText } from './drawing.js';
import { CELL, type NearPlan, type ReportData } from './gather.js';

const WIDTH = 1000;
const HEIGHT_MAX = 760;
const RULER = 26;
const MARGIN = 0.6; // m around what is drawn

/** The path with the walls seen, as a sheet with a ruler for a frame. */
export function pathPlan(data: ReportData, outline: Corners): string {
  const { path, walls, cells, near } = data;
  if (path.length === 0) return '<p class="quiet">The run holds no whole sweep: there is nothing to draw.</p>';
  const xs = [...path.map(([x]) => x), ...walls.flatMap(({ x1, x2 }) => [x1, x2]), ...most(cells.map(([x]) => x))];
  const ys = [...path.map(([, y]) => y), ...walls.flatMap(({ y1, y2 }) => [y1, y2]), ...most(cells.map(([, y]) => y))];
  const box = { x0: least(xs) - MARGIN, x1: greatest(xs) + MARGIN, y0: least(ys) - MARGIN, y1: greatest(ys) + MARGIN };
  const isTall = box.y1 - box.y0 > box.x1 - box.x0; // then x points up, as on a walk
  const [across, up] = isTall ? [box.y1 - box.y0, box.x1 - box.x0] : [box.x1 - box.x0, box.y1 - box.y0];
  const scale = Math.min((WIDTH - RULER) / across, (HEIGHT_MAX - RULER) / up);
  const height = Math.round(up * scale + RULER);
  const left = RULER + (WIDTH - RULER - across * scale) / 2;
  const at = (x: number, y: number): readonly [number, number] =>
    isTall
      ? [left + (box.y1 - y) * scale, RULER + (box.x1 - x) * scale]
      : [left + (x - box.x0) * scale, RULER + (box.y1 - y) * scale];
  const point = (x: number, y: number): string => at(x, y).map(px).join(' ');
  const size = px(Math.max(1.1, CELL * scale * 0.75));
  const parts = [
    `<rect fill="url(#away)" x="${RULER}" y="${RULER}" width="${WIDTH - RULER}" height="${height - RULER}"/>`,
    `<path class="view" d="${data.views.map((view) => `M${view.map(([x, y]) => point(x, y)).join('L')}z`).join('')}"/>`,
    `<path class="echoes" stroke-width="${size}" d="${cells.map(([x, y]) => `M${point(x, y)}h0`).join('')}"/>`,
    `<path class="face" d="${walls.map(({ x1, y1, x2, y2 }) => `M${point(x1, y1)}L${point(x2, y2)}`).join('')}"/>`,
    `<path class="path halo-line" d="M${path.map(([x, y]) => point(x, y)).join('L')}"/>`,
    `<path class="path" d="M${path.map(([x, y]) => point(x, y)).join('L')}"/>`,
    cart(outline, { x: path[0][0], y: path[0][1], heading: 0 }, at),
  ];
  near.forEach((plan, i) => {
    const [x, y] = at(plan.pose.x, plan.pose.y);
    parts.push(
      `<circle class="pin" cx="${px(x)}" cy="${px(y)}" r="9"/><text class="pin-text" x="${px(x)}" y="${px(y + 4)}">${i + 1}</text>`,
    );
  });
  const [endX, endY] = path[path.length - 1];
  const [beforeX, beforeY] = path[Math.max(0, path.length - 4)];
  const heading = Math.atan2(endY - beforeY, endX - beforeX);
  parts.push(cart(outline, { x: endX, y: endY, heading }, at));
  parts.push(label(at(path[0][0], path[0][1]), 'start'), label(at(endX, endY), 'end'));
  parts.push(ruler(isTall ? box.y1 : box.x0, isTall ? -1 : 1, scale, left, height, isTall ? box.x1 : box.y1));
  return `<svg viewBox="0 0 ${WIDTH} ${height}" role="img" aria-label="Path driven and walls seen">${parts.join('')}<rect class="frame" x="${RULER}" y="${RULER}" width="${WIDTH - RULER - 1}" height="${height - RULER - 1}"/></svg>`;
}

/** A small plan of one of the closest approaches, rover up. */
export function nearPlan(plan: NearPlan, outline: Corners, number: number, began: number): string {
  const half = 1.5; // m
  const size = 300;
  const scale = size / (2 * half);
  const at = (x: number, y: number): readonly [number, number] => [size / 2 - y * scale, size / 2 - x * scale];
  const inside = plan.echoes.filter(([x, y]) => Math.abs(x) < half && Math.abs(y) < half);
  const foot = nearestOn(outline, plan.x, plan.y);
  const [ex, ey] = at(plan.x, plan.y);
  const [fx, fy] = at(foot[0], foot[1]);
  const textX = Math.min(size - 34, Math.max(34, (ex + fx) / 2));
  const textY = Math.min(size - 12, Math.max(20, Math.min(ey, fy) - 10));
  return `<figure class="near"><svg viewBox="0 0 ${size} ${size}" role="img" aria-label="Approach ${number}">
<rect class="film" width="${size}" height="${size}"/>
${plan.movers.map(({ x, y, width }) => circle(at(x, y), Math.max(4, (width / 2) * scale))).join('')}
<path class="echoes" stroke-width="3.2" d="${inside.map(([x, y]) => `M${at(x, y).map(px).join(' ')}h0`).join('')}"/>
${cart(outline, { x: 0, y: 0, heading: 0 }, at)}
<path class="dimension" d="M${px(fx)} ${px(fy)}L${px(ex)} ${px(ey)}"/>${tick(fx, fy)}${tick(ex, ey)}
<text class="figure halo" x="${px(textX)}" y="${px(textY)}">${plan.distance.toFixed(2)}</text>
<path class="thin" d="M10 ${size - 10}h${px(scale / 2)}m0-3v6m${px(-scale / 2)}-6v6"/><text class="tick" x="10" y="${size - 16}">0.5 m</text>
<rect class="frame" x=".5" y=".5" width="${size - 1}" height="${size - 1}"/></svg>
<figcaption><b>${number}</b> <span>${timeText(plan.at - began)}</span> <span class="quiet">${escapeText(sideOf(plan.x, plan.y))}</span></figcaption></figure>`;
}

/** Measured noise over the range, with what the configuration expects. */
export function noiseChart(data: ReportData, expected: (range: number) => number): string {
  const { noise } = data;
  if (noise.length < 2) return '<p class="quiet">Too few straight walls were seen to tell the noise of the sensor.</p>';
  const left = 60;
  const [right, top, bottom] = [490, 12, 240];
  const far = Math.max(...noise.map(({ range }) => range)) * 1.05;
  const high = Math.max(...noise.map(({ sigma }) => sigma), expected(far * 0.8)) * 1.1;
  const x = (range: number): number => left + ((right - left) * range) / far;
  const y = (sigma: number): number => bottom - ((bottom - top) * Math.min(sigma, high)) / high;
  const curve = Array.from({ length: 60 }, (_, i) => (far * (i + 1)) / 60).filter((range) => expected(range) <= high);
  const stepX = niceStep(far, 6);
  const stepY = niceStep(high * 1000, 5);
  const parts = [`<rect class="well" x="${left}" y="${top}" width="${right - left}" height="${bottom - top}"/>`];
  for (let range = 0; range <= far; range += stepX)
    parts.push(
      `<path class="thin" d="M${px(x(range))} ${bottom}v5"/><text class="tick mid" x="${px(x(range))}" y="${bottom + 18}">${Number(range.toFixed(3))}</text>`,
    );
  for (let mm = 0; mm <= high * 1000; mm += stepY)
    parts.push(
      `<path class="thin" d="M${left} ${px(y(mm / 1000))}h-5"/><text class="tick end" x="${left - 9}" y="${px(y(mm / 1000) + 4)}">${Number(mm.toFixed(2))}</text>`,
    );
  parts.push(
    `<path class="curve" d="M${curve.map((range) => `${px(x(range))} ${px(y(expected(range)))}`).join('L')}"/>`,
  );
  for (const { range, sigma } of noise)
    parts.push(
      `<path class="stem" d="M${px(x(range))} ${bottom}V${px(y(sigma))}"/><circle class="dot" cx="${px(x(range))}" cy="${px(y(sigma))}" r="3.5"/>`,
    );
  parts.push(
    `<text class="tick" x="${left + 6}" y="${top + 14}">σ, mm</text><text class="tick end" x="${right}" y="${bottom + 32}">range, m</text>`,
  );
  return `<svg viewBox="0 0 500 ${bottom + 38}" role="img" aria-label="Range noise over range">${parts.join('')}</svg>`;
}

function cart(
  outline: Corners,
  pose: Readonly<{ x: number; y: number; heading: number }>,
  at: (x: number, y: number) => readonly [number, number],
): string {
  const c = Math.cos(pose.heading);
  const s = Math.sin(pose.heading);
  const place = (x: number, y: number): string =>
    at(pose.x + c * x - s * y, pose.y + s * x + c * y)
      .map(px)
      .join(' ');
  const front = Math.max(...outline.map(([x]) => x));
  const chevron = `M${place(front * 0.55, front * 0.35)}L${place(front * 0.8, 0)}L${place(front * 0.55, -front * 0.35)}`;
  return `<path class="cart" d="M${outline.map(([x, y]) => place(x, y)).join('L')}z"/><path class="chevron" d="${chevron}"/>`;
}

function circle([x, y]: readonly [number, number], radius: number): string {
  return `<circle class="mover" cx="${px(x)}" cy="${px(y)}" r="${px(radius)}"/>`;
}

function tick(x: number, y: number): string {
  return `<path class="dimension" d="M${px(x - 4)} ${px(y + 4)}l8-8"/>`;
}

function label([x, y]: readonly [number, number], text: string): string {
  return `<text class="figure halo" x="${px(x)}" y="${px(y - 14)}">${text}</text>`;
}

/** Metres from the start along the top and the left edge. */
function ruler(from: number, sign: 1 | -1, scale: number, left: number, height: number, top: number): string {
  const step = niceStep((WIDTH - RULER) / scale, 12);
  const parts: string[] = [];
  const first = sign > 0 ? from - (left - RULER) / scale : from + (left - RULER) / scale;
  const text = (value: number): string => {
    const rounded = Number(value.toFixed(2));
    return String(Object.is(rounded, -0) ? 0 : rounded).replace('-', '−');
  };
  for (let k = Math.ceil(Math.min(first, first + (sign * (WIDTH - RULER)) / scale) / step); ; k++) {
    const x = RULER + sign * (k * step - first) * scale;
    if (x < RULER || x > WIDTH) {
      if (sign * (k * step - first) * scale > WIDTH || (sign < 0 && x < RULER)) break;
      continue;
    }
    parts.push(
      `<path class="thin" d="M${px(x)} ${RULER}v-6"/><text class="tick mid" x="${px(x)}" y="${RULER - 10}">${text(k * step)}</text>`,
    );
  }
  for (let k = Math.floor(top / step); RULER + (top - k * step) * scale < height - 8; k--) {
    const y = RULER + (top - k * step) * scale;
    parts.push(
      `<path class="thin" d="M${RULER} ${px(y)}h-6"/><text class="tick end" x="${RULER - 8}" y="${px(y + 4)}">${text(k * step)}</text>`,
    );
  }
  return `${parts.join('')}<text class="tick" x="4" y="${RULER - 10}">m</text>`;
}

function nearestOn(outline: Corners, px0: number, py0: number): readonly [number, number] {
  let best: readonly [number, number] = outline[0];
  let least = Infinity;
  outline.forEach(([x1, y1], i) => {
    const [x2, y2] = outline[(i + 1) % outline.length];
    const along = ((px0 - x1) * (x2 - x1) + (py0 - y1) * (y2 - y1)) / ((x2 - x1) ** 2 + (y2 - y1) ** 2);
    const t = Math.min(1, Math.max(0, along));
    const foot = [x1 + t * (x2 - x1), y1 + t * (y2 - y1)] as const;
    const distance = Math.hypot(px0 - foot[0], py0 - foot[1]);
    if (distance >= least) return;
    least = distance;
    best = foot;
  });
  return best;
}

/** @returns in words where a point lies, rover axes. */
function sideOf(x: number, y: number): string {
  const degrees = Math.round((Math.atan2(y, x) * 180) / Math.PI);
  if (Math.abs(degrees) <= 10) return 'ahead';
  if (Math.abs(degrees) >= 170) return 'behind';
  return `${Math.abs(degrees)}° ${degrees > 0 ? 'left' : 'right'}`;
}

/** All but the farthest hundredth on either side: a stray cell must not shrink the drawing. */
function most(values: number[]): number[] {
  values.sort((a, b) => a - b);
  const cut = Math.floor(values.length / 200);
  return values.length === 0 ? [] : [values[cut], values[values.length - 1 - cut]];
}

function least(values: readonly number[]): number {
  return values.reduce((a, b) => Math.min(a, b), Infinity);
}

function greatest(values: readonly number[]): number {
  return values.reduce((a, b) => Math.max(a, b), -Infinity);
}
