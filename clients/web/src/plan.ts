import { type Clearance, SectorState } from '../../typescript/src/client.js';
import type { Corner } from '../../typescript/src/towards.js';
import { radiusAt } from './outline.js';

const RADII = [2, 3, 4, 6, 8, 12, 16, 25]; // m from the rover to the sheet's nearer edge: the fit takes one of these
const PARTS = 4; // straight pieces that draw a sector's arc

/** The sheet: the rover in the middle, ahead is up. Every point of it is leeway, unknown or out of sight; never blank. */
export class Plan {
  readonly #svg: SVGSVGElement;
  #radius = 6;

  constructor(svg: SVGSVGElement) {
    this.#svg = svg;
  }

  /** m per pixel of the drawing now shown. */
  get metresPerPixel(): number {
    const { width, height } = this.#size();
    return this.#radius / (Math.min(width, height) / 2);
  }

  /** @param clearance undefined: nothing is vouched for. */
  draw(outline: readonly Corner[], clearance: Clearance | undefined): void {
    const { width, height } = this.#size();
    this.#fit(clearance);
    const scale = 1 / this.metresPerPixel;
    const far = Math.hypot(width, height) / scale;
    const at = (x: number, y: number): string => `${(width / 2 - y * scale).toFixed(1)} ${(height / 2 - x * scale).toFixed(1)}`;
    const unknown: string[] = [];
    const free: string[] = [];
    const met: string[] = [];
    const open: string[] = [];
    const count = clearance?.state?.length ?? 0;
    const step = count > 0 ? (2 * Math.PI) / count : 2 * Math.PI;
    for (let k = 0; k < count && outline.length > 2; k++) {
      const from = (clearance?.firstBearingRad ?? 0) + k * step;
      const state = clearance?.state?.[k];
      const isKnown = state === SectorState.SECTOR_STATE_CLEAR || state === SectorState.SECTOR_STATE_OBSTACLE;
      const inner: string[] = [];
      const outer: string[] = [];
      for (let i = 0; i <= PARTS; i++) {
        const bearing = from + (i / PARTS) * step;
        const near = radiusAt(outline, bearing, 0);
        const leeway = clearance?.leewayM?.[k] ?? 0;
        const end = isKnown ? radiusAt(outline, bearing, leeway) : far;
        inner.unshift(at(near * Math.cos(bearing), near * Math.sin(bearing)));
        outer.push(at(end * Math.cos(bearing), end * Math.sin(bearing)));
      }
      const area = `M${outer.join('L')}L${inner.join('L')}Z`;
      if (!isKnown) unknown.push(area);
      else {
        free.push(area);
        (state === SectorState.SECTOR_STATE_OBSTACLE ? met : open).push(`M${outer.join('L')}`);
      }
    }
    const body = outline.map(({ x, y }) => at(x, y)).join('L');
    const front = Math.max(...outline.map(({ x }) => x), 0);
    const tip = outline.length > 2 ? `M${at(front * 0.45, 0.4 * front)}L${at(front * 0.8, 0)}L${at(front * 0.45, -0.4 * front)}` : '';
    const ahead = clearance?.aheadM ?? 0;
    const reach = at(front + ahead, 0).split(' ').map(Number);
    const figure = ahead > 0 ? `<path class="ahead" d="M${at(front, 0)}L${at(front + ahead, 0)}M${reach[0] - 6} ${reach[1] + 6}l12 -12"/><text class="ahead-figure" x="${reach[0] + 10}" y="${Math.max(22, (reach[1] + height / 2) / 2)}">leeway ${ahead.toFixed(2)}</text>` : '';
    this.#svg.innerHTML =
      `<defs><pattern id="hatch-away" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="away" d="M0 0V9"/></pattern>` +
      `<pattern id="hatch-unknown" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path class="dark" d="M0 0V8"/></pattern></defs>` +
      `<rect width="100%" height="100%" fill="url(#${count > 0 ? 'hatch-away' : 'hatch-unknown'})"/>` +
      `<path class="ground" d="${unknown.join('')}"/><path fill="url(#hatch-unknown)" d="${unknown.join('')}"/>` +
      `<path class="ground" d="${free.join('')}"/><path class="free" d="${free.join('')}"/>` +
      `<path class="edge" d="${met.join('')}"/><path class="edge open" d="${open.join('')}"/>` +
      figure +
      (body === '' ? '' : `<path class="rover" d="M${body}Z"/><path class="rover-front" d="${tip}"/>`);
  }

  #size(): { width: number; height: number } {
    const { width, height } = this.#svg.getBoundingClientRect();
    return { width: Math.max(1, width), height: Math.max(1, height) };
  }

  /** Takes the smallest sheet that holds three quarters of what is vouched for; keeps the one it has while that is near. */
  #fit(clearance: Clearance | undefined): void {
    const lengths = (clearance?.leewayM ?? []).filter((length) => length > 0).sort((a, b) => a - b);
    if (lengths.length === 0) return;
    const want = 1.15 * lengths[Math.floor(lengths.length * 0.9)] + 0.5;
    const fit = RADII.find((radius) => radius >= want) ?? RADII[RADII.length - 1];
    if (fit > this.#radius || want < 0.55 * this.#radius) this.#radius = fit;
  }
}
