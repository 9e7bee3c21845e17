import type { Ink } from './ink.js';

const MOST = 600; // sprites kept; past that the oldest go
const MADE_AT_ONCE = 6; // a frame: making one costs a tenth of a millisecond

/** One line of lettering: how large, how heavy, in which ink, on which ground. */
export interface Hand {
  readonly size: number;
  readonly weight: 400 | 600;
  readonly colour: keyof Ink & ('ink' | 'graphite' | 'mover' | 'edge' | 'caution' | 'film');
  /** What stands behind the letters: a rim in the ground's colour, a box in their own, or nothing. */
  readonly halo: 'film' | 'wash' | 'box' | 'none';
}

/** Letters as a picture: drawn once, put down many times. */
export interface Sprite {
  readonly picture: OffscreenCanvas;
  /** px. */
  readonly width: number;
  readonly height: number;
}

/** The sheet's letters: writing text on a canvas is dear, putting down a picture of it is not. */
export class Lettering {
  readonly #kept = new Map<string, Sprite>();
  readonly #measure = new OffscreenCanvas(1, 1).getContext('2d');
  #ink: Ink | undefined;
  #scale = 1;
  #left = MADE_AT_ONCE;

  /** Forgets all pictures: inks or screen have changed. */
  use(ink: Ink, scale: number): void {
    this.#ink = ink;
    this.#scale = scale;
    this.#kept.clear();
  }

  /** A new frame may make some pictures again. */
  refill(): void {
    this.#left = MADE_AT_ONCE;
  }

  /**
   * @param text written in `hand`; `second` follows after a gap in graphite.
   * @returns undefined: there is no time for it in this frame; ask again in the next one.
   */
  sprite(text: string, hand: Hand, second = '', isNeededNow = false): Sprite | undefined {
    const key = `${hand.size}${hand.weight}${hand.colour}${hand.halo}|${text}|${second}`;
    const known = this.#kept.get(key);
    if (known !== undefined) return known;
    if (this.#left <= 0 && !isNeededNow) return undefined;
    this.#left--;
    const made = this.#make(text, hand, second);
    if (made === undefined) return undefined;
    if (this.#kept.size >= MOST) this.#forgetOldest();
    this.#kept.set(key, made);
    return made;
  }

  #forgetOldest(): void {
    let gone = 0;
    for (const key of this.#kept.keys()) {
      this.#kept.delete(key);
      if (++gone > MOST / 4) return;
    }
  }

  #make(text: string, hand: Hand, second: string): Sprite | undefined {
    const ink = this.#ink;
    const measure = this.#measure;
    if (ink === undefined || measure === null) return undefined;
    const size = hand.size * ink.rem;
    const font = (weight: number): string => `${weight} ${size}px ${ink.lettering}`;
    measure.font = font(hand.weight);
    const first = measure.measureText(text).width;
    const gap = second === '' ? 0 : 9 * ink.rem;
    measure.font = font(400);
    const rest = second === '' ? 0 : measure.measureText(second).width;
    const pad = hand.halo === 'none' ? 1 : (hand.halo === 'box' ? 8 : 3) * ink.rem;
    const width = Math.ceil(first + gap + rest + 2 * pad);
    const height = Math.ceil(size * 1.25 + 2 * pad);
    const picture = new OffscreenCanvas(Math.ceil(width * this.#scale), Math.ceil(height * this.#scale));
    const pen = picture.getContext('2d');
    if (pen === null) return undefined;
    pen.scale(this.#scale, this.#scale);
    pen.textBaseline = 'alphabetic';
    const base = pad + size * 0.98;
    pen.lineJoin = 'round';
    const write = (what: string, x: number, weight: number, colour: string): void => {
      pen.font = font(weight);
      if (hand.halo === 'film' || hand.halo === 'wash') {
        pen.strokeStyle = hand.halo === 'film' ? ink.film : ink.wash;
        pen.lineWidth = 4.5 * ink.rem;
        pen.strokeText(what, x, base);
      }
      pen.fillStyle = colour;
      pen.fillText(what, x, base);
    };
    if (hand.halo === 'box') {
      pen.fillStyle = ink.film;
      pen.fillRect(0, 0, width, height);
      pen.strokeStyle = ink[hand.colour];
      pen.lineWidth = 1.25 * ink.pen;
      pen.strokeRect(1, 1, width - 2, height - 2);
    }
    if (second !== '') write(second, pad + first + gap, 400, ink.graphite);
    write(text, pad, hand.weight, ink[hand.colour]);
    return { picture, width, height };
  }
}
