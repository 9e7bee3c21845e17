import type { Pose } from '../geometry.js';

const CLOSEST = 320; // px a metre, at root 16
const FARTHEST = 8;
const STEP = 1.25; // of one zoom step
const CALM = 0.45; // of the sheet's size: nearer to its edge than that the sheet follows the rover

/** Plan up: the drawing stays as the rover stood at the start. Cart up: ahead is up. */
export type Up = 'plan' | 'cart';

/** World to sheet: metres to px, and what stands in its way. Numbers only: a frame allocates nothing. */
export class View {
  width = 1;
  height = 1;
  /** px that rulers and title block take at each side. */
  left = 24;
  top = 24;
  right = 0;
  bottom = 0;
  up: Up = 'plan';
  pxPerM = 60;
  /** Plan up: what stands in the middle, world m. Cart up: how far the middle is off the rover, its axes, m. */
  x = 0;
  y = 0;
  aheadX = 0;
  aheadY = 0;
  /** Screen of the last point that was asked for. */
  sx = 0;
  sy = 0;
  /** World of the last point that was asked for. */
  wx = 0;
  wy = 0;
  #a = 1;
  #b = 0;
  #e = 0;
  #f = 0;
  /** Where a change of view comes from and goes to; 1: it has come. */
  #change = 1;
  readonly #from = { a: 1, b: 0, e: 0, f: 0 };
  settleS = 0.24;

  get middleX(): number {
    return (this.left + this.width - this.right) / 2;
  }
  get middleY(): number {
    return (this.top + this.height - this.bottom) / 2;
  }
  get isSettling(): boolean {
    return this.#change < 1;
  }
  /** rad, of the world's x axis on the screen, counter-clockwise from the right. */
  get turn(): number {
    return Math.atan2(this.#b, this.#a);
  }

  /** Works out where the world lies now. @param elapsed s since the last frame. */
  update(pose: Pose, elapsed: number): void {
    const scale = this.pxPerM;
    const turn = this.up === 'plan' ? 0 : Math.PI / 2 - pose.heading;
    let a = scale * Math.cos(turn);
    let b = scale * Math.sin(turn);
    let x = this.x;
    let y = this.y;
    if (this.up === 'cart') {
      const c = Math.cos(pose.heading);
      const s = Math.sin(pose.heading);
      x = pose.x + this.aheadX * c - this.aheadY * s;
      y = pose.y + this.aheadX * s + this.aheadY * c;
    }
    let e = this.middleX - a * x + b * y;
    let f = this.middleY + b * x + a * y;
    if (this.#change < 1) {
      this.#change = this.settleS > 0 ? Math.min(1, this.#change + elapsed / this.settleS) : 1;
      const k = 1 - (1 - this.#change) ** 3;
      const from = this.#from;
      a = from.a + (a - from.a) * k;
      b = from.b + (b - from.b) * k;
      e = from.e + (e - from.e) * k;
      f = from.f + (f - from.f) * k;
    }
    this.#a = a;
    this.#b = b;
    this.#e = e;
    this.#f = f;
  }

  /** Makes the next changes of view come smoothly. */
  settle(): void {
    this.#from.a = this.#a;
    this.#from.b = this.#b;
    this.#from.e = this.#e;
    this.#from.f = this.#f;
    this.#change = 0;
  }

  /** Sets {@link sx} and {@link sy}, px, of a world point. */
  toScreen(x: number, y: number): void {
    this.sx = this.#a * x - this.#b * y + this.#e;
    this.sy = -this.#b * x - this.#a * y + this.#f;
  }

  /** Sets {@link wx} and {@link wy}, m, of a point of the sheet. */
  toWorld(sx: number, sy: number): void {
    const px = sx - this.#e;
    const py = this.#f - sy;
    const size = this.#a * this.#a + this.#b * this.#b;
    this.wx = (this.#a * px + this.#b * py) / size;
    this.wy = (this.#a * py - this.#b * px) / size;
  }

  /** @returns whether a point of the sheet is inside its rulers. */
  isInside(sx: number, sy: number, gap = 0): boolean {
    return sx >= this.left + gap && sx <= this.width - gap && sy >= this.top + gap && sy <= this.height - gap;
  }

  /** Moves the sheet under the eye. @param dx, dy px. */
  pan(dx: number, dy: number, pose: Pose): void {
    const turn = this.up === 'plan' ? 0 : Math.PI / 2 - pose.heading;
    const c = Math.cos(turn);
    const s = Math.sin(turn);
    const x = (-dx * c + dy * s) / this.pxPerM;
    const y = (dx * s + dy * c) / this.pxPerM;
    this.#shift(x, y, pose);
  }

  #shift(x: number, y: number, pose: Pose): void {
    if (this.up === 'plan') {
      this.x += x;
      this.y += y;
      return;
    }
    const c = Math.cos(pose.heading);
    const s = Math.sin(pose.heading);
    this.aheadX += x * c + y * s;
    this.aheadY += -x * s + y * c;
  }

  /** Zooms about a point of the sheet. @param steps positive: nearer. */
  zoom(steps: number, sx: number, sy: number, pose: Pose, rem: number): void {
    this.toWorld(sx, sy);
    const x = this.wx;
    const y = this.wy;
    const before = this.pxPerM;
    this.pxPerM = Math.min(CLOSEST * rem, Math.max(FARTHEST * rem, before * STEP ** steps));
    const k = 1 - before / this.pxPerM;
    const [mx, my] = this.#middle(pose);
    this.#shift((x - mx) * k, (y - my) * k, pose);
  }

  #middle(pose: Pose): readonly [number, number] {
    if (this.up === 'plan') return [this.x, this.y];
    const c = Math.cos(pose.heading);
    const s = Math.sin(pose.heading);
    return [pose.x + this.aheadX * c - this.aheadY * s, pose.y + this.aheadX * s + this.aheadY * c];
  }

  /**
   * Shows a piece of the world, given about the rover: plan up in the world's directions, cart up in the rover's own.
   * @param box m: least x, least y, most x, most y.
   */
  fit(box: readonly [number, number, number, number], pose: Pose, rem: number): void {
    const wide = Math.max(2, this.up === 'plan' ? box[2] - box[0] : box[3] - box[1]);
    const high = Math.max(2, this.up === 'plan' ? box[3] - box[1] : box[2] - box[0]);
    const room = [this.width - this.left - this.right, this.height - this.top - this.bottom];
    this.pxPerM = Math.min(160 * rem, Math.max(FARTHEST * rem, Math.min(room[0] / wide, room[1] / high)));
    const x = (box[0] + box[2]) / 2;
    const y = (box[1] + box[3]) / 2;
    if (this.up === 'cart') {
      this.aheadX = x;
      this.aheadY = y;
    } else {
      this.x = pose.x + x;
      this.y = pose.y + y;
    }
  }

  /** Plan up: takes the rover back towards the middle when it comes near the sheet's edge. @returns whether it did. */
  follow(pose: Pose): boolean {
    if (this.up === 'cart' || this.isSettling) return false;
    this.toScreen(pose.x, pose.y);
    const roomX = CALM * (this.width - this.left - this.right) * 0.5;
    const roomY = CALM * (this.height - this.top - this.bottom) * 0.5;
    const isOut =
      this.sx < this.left + roomX ||
      this.sx > this.width - this.right - roomX ||
      this.sy < this.top + roomY ||
      this.sy > this.height - this.bottom - roomY;
    if (!isOut) return false;
    this.settle();
    this.x = pose.x;
    this.y = pose.y;
    return true;
  }
}
