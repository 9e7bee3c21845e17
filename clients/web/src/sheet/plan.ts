import type { Finding } from '../../../typescript/src/client.js';
import type { Noise } from '../measure/deviation.js';
import type { Marks } from '../measure/marks.js';
import type { Spot } from '../measure/snap.js';
import type { Model } from '../model.js';
import { drawBase, drawMask, drawSectors, type Mask } from './ground.js';
import { type Ink, readInk } from './ink.js';
import { Labels } from './labels.js';
import { Lettering } from './lettering.js';
import { drawCross, drawPins, drawTape } from './marking.js';
import { drawAhead, drawCart, drawEchoes, drawMovers, drawPath, labelAhead, labelMovers } from './moving.js';
import { drawRuler } from './ruler.js';
import {
  drawCorners,
  drawOpenings,
  drawPosts,
  drawWalls,
  labelCorners,
  labelFindings,
  labelOpenings,
  labelPosts,
  labelWalls,
} from './standing.js';
import { View } from './view.js';

const FIT = 6.5; // m about the rover that a fit shows at most

/** What is drawn beside what the model holds. */
export interface Showing {
  /** Whether anything is known of now; else walls are only where they last stood. */
  isPast: boolean;
  echoes: boolean;
  figures: boolean;
  path: boolean;
  trailDots: number;
  masks: readonly Mask[];
  draft: Mask | undefined;
  cross: Spot | undefined;
  findings: readonly Finding[];
  /** World, m: where the pointer is; NaN: not on the sheet. */
  over: Readonly<{ x: number; y: number }>;
  noise: Noise;
}

/** The sheet: two canvases, the ground painted once and all that changes over it. */
export class Plan {
  readonly view = new View();
  readonly labels: Labels;
  readonly #base: CanvasRenderingContext2D;
  readonly #live: CanvasRenderingContext2D;
  readonly #lettering = new Lettering();
  #ink: Ink;
  #scale = 1;
  #isBasePast = false;
  #isBaseOwed = true;

  constructor(base: HTMLCanvasElement, live: HTMLCanvasElement) {
    this.#base = contextOf(base);
    this.#live = contextOf(live);
    this.#ink = readInk(this.#live, 1);
    this.labels = new Labels(this.#lettering);
    this.refresh();
  }

  get rem(): number {
    return this.#ink.rem;
  }

  /** The screen, the state or the preferences have changed: takes size and inks anew. */
  refresh(): void {
    const box = this.#live.canvas.getBoundingClientRect();
    this.#scale = Math.min(2, devicePixelRatio); // sharper than that costs more than the eye gets
    for (const { canvas } of [this.#base, this.#live]) {
      const width = Math.max(1, Math.round(box.width * this.#scale));
      const height = Math.max(1, Math.round(box.height * this.#scale));
      if (canvas.width !== width) canvas.width = width;
      if (canvas.height !== height) canvas.height = height;
    }
    this.view.width = Math.max(1, box.width);
    this.view.height = Math.max(1, box.height);
    this.#ink = readInk(this.#live, this.#scale);
    this.view.left = this.view.top = Math.round(22 * this.#ink.rem) + 0.5;
    this.#lettering.use(this.#ink, this.#scale);
    this.labels.hurry();
    this.#isBaseOwed = true;
  }

  /** @param now s. @param elapsed s since the last frame. @returns whether another frame is owed though nothing new comes. */
  draw(model: Model, marks: Marks, showing: Showing, now: number, elapsed: number): boolean {
    const { view } = this;
    const context = this.#live;
    const ink = this.#ink;
    const scale = this.#scale;
    const { isPast } = showing;
    if (this.#isBaseOwed || isPast !== this.#isBasePast) this.#paintBase(isPast);
    view.update(model.pose, elapsed);
    this.#lettering.refill();
    context.setTransform(scale, 0, 0, scale, 0, 0);
    context.clearRect(0, 0, view.width, view.height);
    if (!isPast) drawSectors(context, view, model, ink);
    for (let i = 0; i < showing.masks.length; i++) drawMask(context, view, model, ink, showing.masks[i], false);
    if (showing.draft !== undefined) drawMask(context, view, model, ink, showing.draft, true);
    if (showing.path) drawPath(context, view, model, ink, isPast);
    if (showing.echoes && !isPast) drawEchoes(context, view, model, ink, scale);
    drawWalls(context, view, model, ink, isPast);
    if (!isPast) {
      drawOpenings(context, view, model, ink);
      drawCorners(context, view, model, ink);
    }
    drawPosts(context, view, model, ink, isPast);
    if (!isPast) drawMovers(context, view, model, ink, showing.trailDots);
    drawCart(context, view, model, ink, isPast);
    if (!isPast) drawAhead(context, view, model, ink);
    const isOwed = this.#drawLabels(model, showing, now);
    drawTape(context, view, marks, ink, this.#lettering, showing.cross);
    drawPins(context, view, model, marks, ink, this.#lettering, this.labels.reserved);
    if (showing.cross !== undefined) drawCross(context, view, ink, showing.cross);
    drawRuler(context, view, model, ink, this.#lettering);
    return isOwed || view.isSettling;
  }

  #drawLabels(model: Model, showing: Showing, now: number): boolean {
    const { view, labels } = this;
    if (showing.isPast) {
      labels.clear();
      return false;
    }
    if (labels.isDue(now) || view.isSettling) {
      labels.begin();
      labelAhead(labels, view, model, this.#ink);
      if (showing.figures) {
        labelMovers(labels, view, model, this.#ink);
        labelOpenings(labels, view, model, this.#ink, showing.over);
        labelWalls(labels, view, model, this.#ink, showing.noise);
        labelCorners(labels, view, model, this.#ink);
        labelPosts(labels, view, model, this.#ink);
      }
      labelFindings(labels, model, showing.findings);
      labels.layOut(view, now);
    }
    return labels.draw(this.#live, view, this.#scale);
  }

  #paintBase(isPast: boolean): void {
    this.#isBaseOwed = false;
    this.#isBasePast = isPast;
    this.#base.setTransform(this.#scale, 0, 0, this.#scale, 0, 0);
    drawBase(this.#base, this.view.width, this.view.height, this.#ink, isPast);
  }

  /** Shows all that is vouched for and the walls about the rover. */
  fit(model: Model): void {
    const box: [number, number, number, number] = [-1.5, -1.5, 1.5, 1.5];
    const { view } = this;
    const heading = view.up === 'cart' ? 0 : model.pose.heading;
    const c = Math.cos(heading);
    const s = Math.sin(heading);
    const take = (x: number, y: number): void => {
      const px = Math.max(-FIT, Math.min(FIT, x * c - y * s));
      const py = Math.max(-FIT, Math.min(FIT, x * s + y * c));
      box[0] = Math.min(box[0], px - 0.5);
      box[1] = Math.min(box[1], py - 0.5);
      box[2] = Math.max(box[2], px + 0.5);
      box[3] = Math.max(box[3], py + 0.5);
    };
    if (view.width < 700 && view.up === 'cart') {
      // a phone shows what lies ahead
      box.splice(0, 4, -1.6, -2.4, 5.2, 2.4);
    } else {
      for (let i = 0; i < model.edge.length; i += 2) take(model.edge[i], model.edge[i + 1]);
      for (const wall of model.shapes?.walls ?? []) {
        take(wall.x1M, wall.y1M);
        take(wall.x2M, wall.y2M);
      }
    }
    view.fit(box, model.pose, this.rem);
    this.labels.hurry();
  }
}

function contextOf(canvas: HTMLCanvasElement): CanvasRenderingContext2D {
  const context = canvas.getContext('2d');
  if (context === null) throw new TypeError('no canvas here');
  return context;
}
