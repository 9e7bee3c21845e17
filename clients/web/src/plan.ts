import type { Clearance, Point } from '../../typescript/src/client.js';
import { part } from './dom.js';
import { radiusAt } from './outline.js';
import { metres } from './words.js';

const RADII = [2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 25]; // m from the rover to the sheet's nearer edge: the fit takes one of these
const PARTS = 4; // straight pieces that draw a sector's arc
const RULER = [28, 24] as const; // px, width of the left and height of the top margin
const FIGURES_APART = 48; // px between the ruler's figures, at least

const SVG = 'http://www.w3.org/2000/svg';

/** Where a point of the rover's axes stands on the sheet, px: ahead is up. */
interface Sheet {
  readonly width: number;
  readonly height: number;
  readonly middle: readonly [number, number];
  readonly pxPerM: number;
}

/** The paths that the sectors make. */
interface Sectors {
  readonly unknown: string[];
  readonly free: string[];
  readonly edge: string[];
  readonly far: string[];
  readonly steps: string[];
  readonly faces: string[];
}

/** The sheet: the rover in the middle. Every point of it is leeway, unknown or out of sight; never blank. */
export class Plan {
  readonly #svg = part('plan', SVGSVGElement);
  #radius = 6;

  /** @param clearance undefined: nothing is vouched for. */
  draw(outline: readonly Point[], clearance: Clearance | undefined): void {
    this.#fit(clearance);
    const sheet = this.#sheet();
    const sectors = sectorPaths(sheet, outline, clearance);
    const isSeen = sectors.free.length > 0;
    part('plan-base', SVGRectElement).setAttribute('fill', `url(#hatch-${isSeen ? 'away' : 'unknown'})`);
    // while nothing is seen the sheet is one hatch: sectors cut out of it would only show seams
    draw('plan-unknown-ground', isSeen ? sectors.unknown : []);
    draw('plan-unknown', isSeen ? sectors.unknown : []);
    draw('plan-free-ground', sectors.free);
    draw('plan-free', sectors.free);
    draw('plan-edge', sectors.edge);
    draw('plan-steps', sectors.steps);
    draw('plan-far', sectors.far);
    draw('plan-faces', sectors.faces);
    drawRover(sheet, outline);
    drawAhead(sheet, outline, isSeen ? (clearance?.aheadM ?? 0) : 0);
    drawRuler(sheet);
    drawScale(sheet);
  }

  #sheet(): Sheet {
    const box = this.#svg.getBoundingClientRect();
    const [left, top] = RULER;
    const width = Math.max(left + 1, box.width);
    const height = Math.max(top + 1, box.height);
    const pxPerM = Math.min(width - left, height - top) / 2 / this.#radius;
    return { width, height, middle: [(width + left) / 2, (height + top) / 2], pxPerM };
  }

  /** Takes the smallest sheet that holds nearly all that is vouched for; keeps the one it has while that is near. */
  #fit(clearance: Clearance | undefined): void {
    const lengths = (clearance?.leewayM ?? []).filter((length) => length > 0).sort((a, b) => a - b);
    if (lengths.length === 0) return;
    const want = 1.15 * lengths[Math.floor(lengths.length * 0.9)] + 0.5;
    const fit = RADII.find((radius) => radius >= want) ?? RADII[RADII.length - 1];
    if (fit > this.#radius || want < 0.55 * this.#radius) this.#radius = fit;
  }
}

function at({ middle, pxPerM }: Sheet, x: number, y: number): string {
  return `${(middle[0] - y * pxPerM).toFixed(1)} ${(middle[1] - x * pxPerM).toFixed(1)}`;
}

function draw(id: string, pieces: readonly string[]): void {
  part(id, SVGPathElement).setAttribute('d', pieces.join(''));
}

function sectorPaths(sheet: Sheet, outline: readonly Point[], clearance: Clearance | undefined): Sectors {
  const paths: Sectors = { unknown: [], free: [], edge: [], far: [], steps: [], faces: [] };
  if (clearance === undefined || outline.length < 3) return paths;
  const { state, leewayM, nearestM, firstBearingRad } = clearance;
  const count = state.length;
  const beyond = Math.hypot(sheet.width, sheet.height) / sheet.pxPerM;
  /** Where sector k stops vouching towards a bearing, m from the origin; at the outline where it is unknown. */
  const end = (k: number, bearing: number): number =>
    radiusAt(outline, bearing, state[k % count] === 'unknown' ? 0 : (leewayM[k % count] ?? 0));
  for (let k = 0; k < count; k++) {
    const bearings = Array.from(
      { length: PARTS + 1 },
      (_, i) => firstBearingRad + ((k + i / PARTS) / count) * 2 * Math.PI,
    );
    const arc = (radius: (bearing: number) => number): string[] =>
      bearings.map((bearing) => at(sheet, radius(bearing) * Math.cos(bearing), radius(bearing) * Math.sin(bearing)));
    const isKnown = state[k] !== 'unknown';
    const inner = arc((bearing) => radiusAt(outline, bearing, 0)).reverse();
    const outer = arc((bearing) => (isKnown ? end(k, bearing) : beyond));
    (isKnown ? paths.free : paths.unknown).push(`M${outer.join('L')}L${inner.join('L')}Z`);
    if (isKnown) (state[k] === 'obstacle' ? paths.edge : paths.far).push(`M${outer.join('L')}`);
    const nearest = nearestM[k] ?? Number.NaN;
    if (Number.isFinite(nearest)) paths.faces.push(`M${arc(() => nearest).join('L')}`);
    // the step to the next sector: the edge is one line, never smoothed
    const side = bearings[PARTS];
    const step = [end(k, side), end(k + 1, side)].map((r) => at(sheet, r * Math.cos(side), r * Math.sin(side)));
    if (step[0] !== step[1]) paths.steps.push(`M${step.join('L')}`);
  }
  return paths;
}

function drawRover(sheet: Sheet, outline: readonly Point[]): void {
  const corners = outline.map(({ xM, yM }) => at(sheet, xM, yM));
  draw('plan-rover', corners.length > 2 ? [`M${corners.join('L')}Z`] : []);
  const front = Math.max(0, ...outline.map(({ xM }) => xM));
  const chevron = [
    [0.4, 0.35],
    [0.75, 0],
    [0.4, -0.35],
  ].map(([x, y]) => at(sheet, x * front, y * front));
  draw('plan-front', corners.length > 2 ? [`M${chevron.join('L')}`] : []);
}

/** The dimension line of the leeway ahead, from the front edge, with oblique end ticks. */
function drawAhead(sheet: Sheet, outline: readonly Point[], ahead: number): void {
  const front = Math.max(0, ...outline.map(({ xM }) => xM));
  const figure = part('plan-ahead-figure', SVGTextElement);
  figure.textContent = ahead > 0 ? `leeway ${metres(ahead)}` : '';
  const ends = [at(sheet, front, 0), at(sheet, front + ahead, 0)];
  draw('plan-ahead', ahead > 0 ? [`M${ends.join('L')}`, ...ends.map((end) => `M${end}m-6 6l12 -12`)] : []);
  const top = sheet.middle[1] - (front + ahead) * sheet.pxPerM;
  const half = (Math.max(top, RULER[1]) + sheet.middle[1] - front * sheet.pxPerM) / 2;
  figure.setAttribute('x', (sheet.middle[0] + 10).toFixed(1));
  figure.setAttribute('y', Math.max(RULER[1] + 18, half).toFixed(1));
}

/** Metres from the rover along the top and left edge, a tick every half metre or where there is room. */
function drawRuler({ width, height, middle, pxPerM }: Sheet): void {
  const step = [0.5, 1, 2, 5, 10].find((metres) => metres * pxPerM >= FIGURES_APART) ?? 20;
  const ticks: string[] = [`M${RULER[0]} ${RULER[1]}H${width}M${RULER[0]} ${RULER[1]}V${height}`];
  const figures: Element[] = [label('m', RULER[0] / 2, RULER[1] - 8, false)];
  const most = Math.ceil(Math.max(width, height) / pxPerM / step);
  for (let i = -most; i <= most; i++) {
    const across = middle[0] + i * step * pxPerM;
    const down = middle[1] + i * step * pxPerM;
    const text = String(Math.abs(i * step));
    if (across > RULER[0] + 8 && across < width - 8) {
      ticks.push(`M${across.toFixed(1)} ${RULER[1]}v-6`);
      figures.push(label(text, across, RULER[1] - 9, i === 0));
    }
    if (down > RULER[1] + 8 && down < height - 8) {
      ticks.push(`M${RULER[0]} ${down.toFixed(1)}h-6`);
      figures.push(label(text, RULER[0] / 2 - 2, down + 4, i === 0));
    }
  }
  draw('ruler-ticks', ticks);
  part('ruler-figures', SVGGElement).replaceChildren(...figures);
}

function label(text: string, x: number, y: number, isBold: boolean): Element {
  const made = document.createElementNS(SVG, 'text');
  made.textContent = text;
  made.setAttribute('x', x.toFixed(1));
  made.setAttribute('y', y.toFixed(1));
  if (isBold) made.setAttribute('class', 'zero');
  return made;
}

function drawScale({ pxPerM }: Sheet): void {
  const metres = [0.5, 1, 2, 5].find((length) => length * pxPerM > 60) ?? 10;
  const width = Math.round(metres * pxPerM);
  const bar = part('scale', SVGSVGElement);
  if (bar.getAttribute('width') === String(width)) return;
  bar.setAttribute('width', String(width));
  const path = document.createElementNS(SVG, 'path');
  path.setAttribute('d', `M0 0h1v10h-1zM${width - 1} 0h1v10h-1zM0 3h${width}v4h-${width}z`);
  bar.replaceChildren(path);
  part('scale-figure', HTMLElement).textContent = `${metres} m`;
}
