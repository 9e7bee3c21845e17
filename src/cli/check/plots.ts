import type { Examination } from '../../bringup/examine.js';
import { RETURN_BINS } from '../../bringup/returns.js';
import { type NoiseModel, rangeSigma } from '../../estimate/noise.js';
import type { Outline } from '../../geometry/outline.js';
import { SAMPLE_KIND } from '../../sweep/echoBatch.js';
import type { Sweep } from '../../sweep/sweep.js';

/** A picture with its words: `words` says what it shows to whoever does not see it. */
export interface Plot {
  readonly title: string;
  readonly words: string;
  readonly svg: string;
}

const WIDTH = 640;
const HEIGHT = 260;
const MARGIN = { left: 56, right: 12, top: 12, bottom: 40 };
const PLAN = 520;

/** Spin over time. */
export function spinPlot({ turning }: Examination): Plot {
  const { at, spin } = turning;
  const begin = at[0] ?? 0;
  const x = Array.from(at, (time) => time - begin);
  const most = Math.max(...spin, 4);
  const line = linePlot({
    x,
    y: [...spin],
    xMost: Math.max(1, ...x),
    yMost: 1.2 * most,
    xName: 'seconds',
    yName: 'revolutions a second',
  });
  const words = `${spin.length} revolutions, ${turning.median.toFixed(2)} a second in the middle, from ${Math.min(...spin).toFixed(2)} to ${Math.max(...spin).toFixed(2)}.`;
  return { title: 'Spin over time', words, svg: line };
}

/** Share of samples with an echo by bearing, from behind over the right, ahead and the left to behind. */
export function returnsPlot({ returns }: Examination): Plot {
  const bars = Array.from(returns.share, (share, bin) => {
    const x = MARGIN.left + (bin / RETURN_BINS) * inner().width;
    const tall = (Number.isNaN(share) ? 0 : share) * inner().height;
    return `<rect x="${px(x)}" y="${px(MARGIN.top + inner().height - tall)}" width="${px(inner().width / RETURN_BINS - 1)}" height="${px(tall)}" class="bar"/>`;
  });
  const frame = axes({
    xFrom: -180,
    xMost: 180,
    yMost: 100,
    xName: 'degrees to the left of ahead',
    yName: 'samples with an echo, %',
  });
  const words = `${(100 * returns.validShare).toFixed(0)} % of all samples have an echo; ${(100 * returns.missingShare).toFixed(0)} % of the circle gives none.`;
  return { title: 'Echoes by bearing', words, svg: svg(WIDTH, HEIGHT, bars.join('') + frame) };
}

/** Noise of each flat piece in sight by its range, and what a sound sensor of this kind makes. */
export function noisePlot({ flats }: Examination, model: NoiseModel): Plot {
  const xMost = Math.max(2, ...flats.map(({ range }) => range));
  const yMost = 1000 * 1.2 * Math.max(rangeSigma(model, xMost), ...flats.map(({ noise }) => noise));
  const place = placer({ xFrom: 0, xMost, yMost });
  const dots = flats.map(({ range, noise }) => {
    const [x, y] = place(range, 1000 * noise);
    return `<circle cx="${px(x)}" cy="${px(y)}" r="4" class="dot"/>`;
  });
  const usual = Array.from({ length: 41 }, (_, i) =>
    place((i / 40) * xMost, 1000 * rangeSigma(model, (i / 40) * xMost)),
  );
  const curve = `<polyline class="usual" points="${usual.map(([x, y]) => `${px(x)},${px(y)}`).join(' ')}"/>`;
  const frame = axes({ xFrom: 0, xMost, yMost, xName: 'range, m', yName: 'noise, mm' });
  const best = flats[0];
  const words =
    best === undefined
      ? 'No flat wall was in sight.'
      : `${flats.length} flat pieces; the flattest at ${best.range.toFixed(2)} m has ${(1000 * best.noise).toFixed(1)} mm of noise. The line is what a sound sensor makes.`;
  return { title: 'Noise by range', words, svg: svg(WIDTH, HEIGHT, curve + dots.join('') + frame) };
}

/** One sweep from above, ahead is up, with the outline. */
export function planPlot(sweep: Sweep | undefined, outline: Outline, mount: Readonly<{ x: number; y: number }>): Plot {
  const points: [number, number][] = [];
  for (let i = 0; sweep !== undefined && i < sweep.count; i++) {
    if (sweep.kind[i] !== SAMPLE_KIND.echo && sweep.kind[i] !== SAMPLE_KIND.tooNear) continue;
    points.push([
      mount.x + sweep.range[i] * Math.cos(sweep.bearing[i]),
      mount.y + sweep.range[i] * Math.sin(sweep.bearing[i]),
    ]);
  }
  const far = Math.max(1, ...points.map(([x, y]) => Math.max(Math.abs(x), Math.abs(y))));
  const scale = (PLAN / 2 - 10) / far;
  const place = (x: number, y: number): string => `${px(PLAN / 2 - y * scale)},${px(PLAN / 2 - x * scale)}`;
  const dots = points.map(([x, y]) => {
    const [cx, cy] = place(x, y).split(',');
    return `<circle cx="${cx}" cy="${cy}" r="1.5" class="dot"/>`;
  });
  const rover = `<polygon class="rover" points="${outline.corners.map(([x, y]) => place(x, y)).join(' ')}"/>`;
  const words = `${points.length} echoes of one sweep from above; ahead is up, the left is left; the edge is ${far.toFixed(1)} m from the rover's origin.`;
  return { title: 'One sweep as a plan', words, svg: svg(PLAN, PLAN, rover + dots.join('')) };
}

interface Scale {
  readonly xFrom: number;
  readonly xMost: number;
  readonly yMost: number;
}

function linePlot(plot: {
  x: number[];
  y: number[];
  xMost: number;
  yMost: number;
  xName: string;
  yName: string;
}): string {
  const place = placer({ xFrom: 0, ...plot });
  const points = plot.x.map((x, i) => place(x, plot.y[i])).map(([x, y]) => `${px(x)},${px(y)}`);
  return svg(WIDTH, HEIGHT, `<polyline class="line" points="${points.join(' ')}"/>${axes({ xFrom: 0, ...plot })}`);
}

function inner(): { width: number; height: number } {
  return { width: WIDTH - MARGIN.left - MARGIN.right, height: HEIGHT - MARGIN.top - MARGIN.bottom };
}

function placer({ xFrom, xMost, yMost }: Scale): (x: number, y: number) => [number, number] {
  const { width, height } = inner();
  return (x, y) => [
    MARGIN.left + ((x - xFrom) / (xMost - xFrom)) * width,
    MARGIN.top + (1 - Math.min(1, y / yMost)) * height,
  ];
}

function axes(scale: Scale & { readonly xName: string; readonly yName: string }): string {
  const { xFrom, xMost, yMost, xName, yName } = scale;
  const place = placer(scale);
  const [left, bottom] = place(xFrom, 0);
  const [right, top] = place(xMost, yMost);
  const along = ticksBetween(xFrom, xMost).map(
    (value) => `<text x="${px(place(value, 0)[0])}" y="${px(bottom + 14)}" text-anchor="middle">${brief(value)}</text>`,
  );
  const up = ticksBetween(0, yMost).map(
    (value) =>
      `<text x="${px(left - 6)}" y="${px(place(xFrom, value)[1] + 4)}" text-anchor="end">${brief(value)}</text>`,
  );
  return (
    `<polyline class="axis" points="${px(left)},${px(top)} ${px(left)},${px(bottom)} ${px(right)},${px(bottom)}"/>` +
    along.join('') +
    up.join('') +
    `<text x="${px((left + right) / 2)}" y="${HEIGHT - 6}" text-anchor="middle">${xName}</text>` +
    `<text x="14" y="${px((top + bottom) / 2)}" text-anchor="middle" transform="rotate(-90 14 ${px((top + bottom) / 2)})">${yName}</text>`
  );
}

/** @returns the whole multiples of a step between two values, up to 9 of them; the step is 1, 2 or 5 times a power of ten. */
function ticksBetween(from: number, to: number): number[] {
  const power = 10 ** Math.floor(Math.log10(to - from));
  const step = power * ([0.2, 0.5, 1].find((part) => (to - from) / (part * power) <= 8) ?? 2);
  const first = Math.ceil(from / step);
  return Array.from({ length: Math.floor(to / step + 1e-9) - first + 1 }, (_, i) => (first + i) * step);
}

const brief = (value: number): string => Number(value.toPrecision(3)).toString();
const px = (value: number): string => value.toFixed(1);
const svg = (width: number, height: number, inside: string): string =>
  `<svg viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" aria-hidden="true">${inside}</svg>`;
