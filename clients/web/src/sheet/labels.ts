import type { Hand, Lettering, Sprite } from './lettering.js';
import type { View } from './view.js';

const MOST = 240;
const STEEP = 1.3; // rad clockwise: letters that would go down more steeply go up
const MOVES_EVERY = 1; // s: a figure that moves oftener cannot be read

/** What gives way to what; later ones win. */
export const RANK = { post: 0, corner: 1, wall: 2, opening: 3, mark: 4, mover: 5, closest: 6, leeway: 7 } as const;

/** A label as wished: at a world point, shifted on the sheet, lying along a world direction or upright. */
interface Label {
  rank: number;
  text: string;
  second: string;
  hand: Hand;
  x: number;
  y: number;
  /** rad, world direction it lies along; NaN: upright. */
  along: number;
  /** px off the point: across `along` (to its left) or, upright, to the right and down. */
  dx: number;
  dy: number;
  /** Which part of an upright label stands at the point. */
  anchor: 'start' | 'middle' | 'end';
  sprite: Sprite | undefined;
  isShown: boolean;
}

/** The sheet's labels: laid out once a second so that none covers a weightier one, drawn where their things are now. */
export class Labels {
  /** Where no label stands. */
  readonly reserved = { boxes: new Float64Array(4 * 8), count: 0, blockLeft: Infinity, blockTop: Infinity };
  readonly #lettering: Lettering;
  #shown: Label[] = [];
  #wished: Label[] = [];
  #laidAt = -Infinity;
  readonly #boxes = new Float64Array(4 * (MOST + 8));
  #boxCount = 0;
  #x = 0;
  #y = 0;
  #angle = 0;

  constructor(lettering: Lettering) {
    this.#lettering = lettering;
  }

  /** @returns whether it is time to say anew which labels there shall be. @param now s. */
  isDue(now: number): boolean {
    return now - this.#laidAt >= MOVES_EVERY;
  }

  /** The next frame lays out anew. */
  hurry(): void {
    this.#laidAt = -Infinity;
  }

  clear(): void {
    this.#shown = [];
    this.#wished = [];
    this.#laidAt = -Infinity;
  }

  begin(): void {
    this.#wished = [];
  }

  /** Wishes for a label that lies along a line. @param along rad, world. @param off px, to the left of `along`. */
  along(
    rank: number,
    hand: Hand,
    text: string,
    second: string,
    x: number,
    y: number,
    along: number,
    off: number,
  ): void {
    this.#wish({
      ...{ rank, hand, text, second, x, y, along, dx: 0, dy: off },
      anchor: 'middle',
      sprite: undefined,
      isShown: false,
    });
  }

  /** Wishes for an upright label. @param dx, dy px off the point. */
  upright(
    rank: number,
    hand: Hand,
    text: string,
    x: number,
    y: number,
    dx: number,
    dy: number,
    anchor: Label['anchor'] = 'start',
  ): void {
    this.#wish({
      ...{ rank, hand, text, second: '', x, y, along: Number.NaN, dx, dy },
      anchor,
      sprite: undefined,
      isShown: false,
    });
  }

  #wish(label: Label): void {
    if (this.#wished.length < MOST) this.#wished.push(label);
  }

  /** Chooses what is shown of what was wished. @param now s. */
  layOut(view: View, now: number): void {
    this.#laidAt = now;
    this.#wished.sort((a, b) => b.rank - a.rank);
    this.#boxCount = 0;
    for (const label of this.#wished) {
      label.sprite = this.#lettering.sprite(label.text, label.hand, label.second);
      // the estimate of a picture that is not made yet: nothing waits for it
      const width = label.sprite?.width ?? (label.text.length + label.second.length) * label.hand.size * 0.5;
      const height = label.sprite?.height ?? label.hand.size * 1.6;
      label.isShown = this.#take(view, label, width, height);
    }
    this.#shown = this.#wished.filter(({ isShown }) => isShown);
    this.#wished = [];
  }

  #place(view: View, label: Label, width: number): void {
    view.toScreen(label.x, label.y);
    let x = view.sx;
    let y = view.sy;
    if (Number.isNaN(label.along)) {
      x += label.dx;
      y += label.dy;
      if (label.anchor === 'start') x += width / 2;
      else if (label.anchor === 'end') x -= width / 2;
      this.#angle = 0;
    } else {
      const angle = -(label.along + view.turn); // clockwise on the screen
      x += Math.sin(angle) * label.dy;
      y -= Math.cos(angle) * label.dy;
      this.#angle = readable(angle);
    }
    this.#x = x;
    this.#y = y;
  }

  #take(view: View, label: Label, width: number, height: number): boolean {
    this.#place(view, label, width);
    const c = Math.abs(Math.cos(this.#angle));
    const s = Math.abs(Math.sin(this.#angle));
    const halfX = (width * c + height * s) / 2 - 2;
    const halfY = (width * s + height * c) / 2 - 2;
    if (label.rank === RANK.leeway) {
      // never hidden: it moves inside the sheet
      this.#x = Math.min(view.width - halfX - 4, Math.max(view.left + halfX + 4, this.#x));
      this.#y = Math.min(view.height - halfY - 4, Math.max(view.top + halfY + 4, this.#y));
    } else if (
      !view.isInside(this.#x - halfX, this.#y - halfY, 2) ||
      !view.isInside(this.#x + halfX, this.#y + halfY, 2)
    ) {
      return false;
    } else if (this.#x + halfX > this.reserved.blockLeft && this.#y + halfY > this.reserved.blockTop) return false;
    else if (this.#isTaken(halfX, halfY)) return false;
    const at = 4 * this.#boxCount++;
    this.#boxes[at] = this.#x - halfX;
    this.#boxes[at + 1] = this.#y - halfY;
    this.#boxes[at + 2] = this.#x + halfX;
    this.#boxes[at + 3] = this.#y + halfY;
    return true;
  }

  #isTaken(halfX: number, halfY: number): boolean {
    const { boxes, count } = this.reserved;
    return this.#isIn(this.#boxes, this.#boxCount, halfX, halfY) || this.#isIn(boxes, count, halfX, halfY);
  }

  #isIn(boxes: Float64Array, count: number, halfX: number, halfY: number): boolean {
    for (let i = 0; i < 4 * count; i += 4) {
      if (
        this.#x - halfX < boxes[i + 2] &&
        this.#x + halfX > boxes[i] &&
        this.#y - halfY < boxes[i + 3] &&
        this.#y + halfY > boxes[i + 1]
      )
        return true;
    }
    return false;
  }

  /** @returns whether some pictures are still to be made: draw again soon. */
  draw(context: CanvasRenderingContext2D, view: View, scale: number): boolean {
    let isOwed = false;
    for (let i = 0; i < this.#shown.length; i++) {
      const label = this.#shown[i];
      label.sprite ??= this.#lettering.sprite(label.text, label.hand, label.second);
      const { sprite } = label;
      if (sprite === undefined) {
        isOwed = true;
        continue;
      }
      this.#place(view, label, sprite.width);
      if (label.rank === RANK.leeway) this.#hold(view, sprite);
      const c = Math.cos(this.#angle);
      const s = Math.sin(this.#angle);
      if (this.#angle === 0) this.#toPixel(sprite, scale);
      context.setTransform(scale * c, scale * s, -scale * s, scale * c, scale * this.#x, scale * this.#y);
      context.drawImage(sprite.picture, -sprite.width / 2, -sprite.height / 2, sprite.width, sprite.height);
    }
    context.setTransform(scale, 0, 0, scale, 0, 0);
    return isOwed;
  }

  /** Letters that stand upright stand on whole pixels: they are sharp there. */
  #toPixel({ width, height }: Sprite, scale: number): void {
    this.#x = Math.round((this.#x - width / 2) * scale) / scale + width / 2;
    this.#y = Math.round((this.#y - height / 2) * scale) / scale + height / 2;
  }

  #hold(view: View, { width, height }: Sprite): void {
    const c = Math.abs(Math.cos(this.#angle));
    const s = Math.abs(Math.sin(this.#angle));
    const halfX = (width * c + height * s) / 2 + 4;
    const halfY = (width * s + height * c) / 2 + 4;
    const isBeside = this.#x + halfX > this.reserved.blockLeft;
    this.#x = Math.min(view.width - halfX, Math.max(view.left + halfX, this.#x));
    this.#y = Math.min((isBeside ? this.reserved.blockTop : view.height) - halfY, Math.max(view.top + halfY, this.#y));
  }
}

/** @returns the angle turned so that it is read from below or from the right, rad clockwise. */
function readable(angle: number): number {
  let turned = Math.atan2(Math.sin(angle), Math.cos(angle));
  if (turned > STEEP) turned -= Math.PI;
  else if (turned <= STEEP - Math.PI) turned += Math.PI;
  return turned;
}
